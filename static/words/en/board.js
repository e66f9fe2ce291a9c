// Words of the Board.
export default {
  offline: "No answer from the lesson server. This is what it showed last.",
  ended: "This period has ended.",
  gone: "This board is closed. Open another from the Desk.",
  busy: "That step did not arrive. Press again.",
};
