// Words of the stages, wherever they are shown.
export default {
  tally: "{done} of {total} have answered",
};
