// Palabras de la Pizarra.
export default {
  offline: "El servidor de la lección no responde. Esto es lo último que mostró.",
  ended: "Esta clase ha terminado.",
  gone: "Esta pizarra está cerrada. Abra otra desde el Escritorio.",
  busy: "Ese paso no llegó. Pulse otra vez.",
};
