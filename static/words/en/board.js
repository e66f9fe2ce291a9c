// Words of the Board.
export default {
  offline: "No answer from the lesson server. This is what it showed last.",
  gone: "This board is closed. Open it again from the Desk.",
  busy: "That step did not arrive. Press again.",
};
