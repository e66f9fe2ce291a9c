"""Words of the Seat's page frame; those of its script are in static/words/en/seat.js."""

WORDS: dict[str, str] = {
    "stage": "What the teacher shows",
    "paper": "Paper",
    "back": "Back",
    "next": "Next task",
    "more": "More below",
    "path": "The lesson, task by task",
    "help": "Help",
    "help_all": "Everything here can be done with a mouse, with a finger, or with the keyboard alone. Tab goes from thing to "
    "thing; arrow keys turn and move what is chosen; Esc puts it back. Nothing is lost if the network goes away: what you "
    "hand in is kept and sent when it returns.",
    "menu": "Leave",
    "return": "Your link to return",
    "return_why": "Open this address on another device. It is yours alone.",
    "leave_seat": "I’m done: sign out",
    "leave_alone": "I’m done: back to the front page",
    "leave_preview": "Close the preview",
}
