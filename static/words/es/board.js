// Palabras de la Pizarra.
export default {
  offline: "El servidor de la lección no responde. Esto es lo último que mostró.",
  gone: "Esta pizarra está cerrada. Ábrala de nuevo desde el Escritorio.",
  busy: "Ese paso no llegó. Pulse otra vez.",
};
