// Palabras de las escenas, dondequiera que se muestren.
export default {
  one_answer: "Una respuesta",
  tally: "Han respondido {done} de {total}",
};
