"""Frases sobre nombres, escenas y disposiciones que no se pueden usar."""

WORDS: dict[str, str] = {
    "name_not_offered": "Toma uno de los nombres que se ofrecen.",
    "name_taken": "Ya hay alguien aquí con ese nombre. Si eras tú, pide a tu docente que deje tomar este lugar a otro dispositivo.",
    "number_range": "Da un número de lugar de 1 a {most}.",
    "name_empty": "Escribe primero un nombre.",
    "name_long": "El nombre debe tener {most} caracteres o menos.",
    "name_marks": "Usa como máximo un acento en cada letra.",
    "name_symbol": "Usa solo letras, dígitos, espacios, guiones y apóstrofos.",
    "name_letters": "El nombre debe tener al menos una letra o un dígito.",
    "name_blanks": "Deja un solo espacio entre las palabras.",
    "stage_object": "Una escena es un objeto con su tipo, o null para nada.",
    "stage_kind": "El tipo de una escena es uno de {kinds}.",
    "stage_big": "Es demasiado para mostrarlo de una vez; quite algo.",
    "stage_to": "Se puede mostrar en cualquiera de {places}.",
    "parts_list": "Dé las partes como una lista de {{id, hidden}}.",
    "order_list": "Dé el orden como una lista de identificadores de partes.",
}
