"""Words of the Board, the projected page."""

WORDS: dict[str, str] = {
    "title": "Board",
    "code": "Period code",
    "controls": "Board",
    "back": "Back",
    "forward": "Forward",
    "blank": "Blank",
    "contrast": "High contrast",
    "full": "Full screen",
}
