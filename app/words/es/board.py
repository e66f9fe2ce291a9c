"""Palabras de la Pizarra, la página que se proyecta."""

WORDS: dict[str, str] = {
    "title": "Pizarra",
    "code": "Código de la clase",
    "controls": "Pizarra",
    "plate": "Cómo entrar",
    "step_address": "Abre",
    "step_code": "Escribe el código",
    "step_sit": "Elige tu lugar",
    "qr": "La dirección y el código en un código QR",
    "letters": "Teclas de letras",
    "back": "Atrás",
    "forward": "Adelante",
    "blank": "En blanco",
    "contrast": "Alto contraste",
    "full": "Pantalla completa",
}
