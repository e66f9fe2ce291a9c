"""Sentences about names, stages and arrangements that can't be used."""

WORDS: dict[str, str] = {
    "name_not_offered": "Take one of the names that are offered.",
    "name_taken": "Somebody already sits here under that name. If it was you, ask your teacher to let another device take this seat.",
    "number_range": "Give a seat number from 1 to {most}.",
    "name_empty": "Type a name first.",
    "name_long": "Make the name {most} characters or shorter.",
    "name_marks": "Use at most one accent on a letter.",
    "name_symbol": "Use letters, digits, spaces, hyphens and apostrophes only.",
    "name_letters": "Put at least one letter or digit in the name.",
    "name_blanks": "Put a single space between words.",
    "stage_object": "A stage is an object with a kind, or null for nothing.",
    "stage_kind": "The kind of a stage is one of {kinds}.",
    "stage_big": "This is too much to show at once; leave something out.",
    "stage_to": "Show it on any of {places}.",
    "parts_list": "Give the parts as a list of {{id, hidden}}.",
    "order_list": "Give the order as a list of part ids.",
}
