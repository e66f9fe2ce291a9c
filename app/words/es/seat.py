"""Palabras del marco de la página del estudiante; las de su programa están en static/words/es/seat.js."""

WORDS: dict[str, str] = {
    "stage": "Lo que muestra tu docente",
    "paper": "Papel",
    "back": "Atrás",
    "next": "Actividad siguiente",
    "more": "Hay más abajo",
    "path": "La lección, actividad por actividad",
    "help": "Ayuda",
    "help_all": "Todo aquí se puede hacer con el ratón, con un dedo o solo con el teclado. Tab pasa de una cosa a otra; las "
    "flechas giran y mueven lo elegido; Esc lo devuelve a su sitio. Si se va la red, nada se pierde: lo que entregas se "
    "guarda y se envía cuando vuelve.",
    "menu": "Salir",
    "return": "Tu enlace para volver",
    "return_why": "Abre esta dirección en otro dispositivo. Es solo tuya.",
    "leave_seat": "Terminé: salir",
    "leave_alone": "Terminé: volver a la página de inicio",
    "leave_preview": "Cerrar la vista previa",
}
