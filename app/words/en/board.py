"""Words of the Board, the projected page."""

WORDS: dict[str, str] = {
    "title": "Board",
    "code": "Period code",
    "controls": "Board",
    "plate": "How to come in",
    "step_address": "Open",
    "step_code": "Type the code",
    "step_sit": "Sit at your place",
    "qr": "The address and the code as a QR code",
    "letters": "Letter keys",
    "back": "Back",
    "forward": "Forward",
    "blank": "Blank",
    "contrast": "High contrast",
    "full": "Full screen",
}
