// Words of the stages, wherever they are shown.
export default {
  one_answer: "One answer",
  tally: "{done} of {total} have answered",
};
