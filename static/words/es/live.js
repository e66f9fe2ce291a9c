// Palabras de las escenas, dondequiera que se muestren.
export default {
  tally: "Han respondido {done} de {total}",
};
