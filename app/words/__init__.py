"""What the program says. Messages are made anywhere (`say("figure.too_many_lines", most=12)`), as data; their
sentences are made last, where something is shown, in the reader's language and with the names of the reader's house.

A catalogue is a plain dict in `app/words/<language>/<area>.py`, named WORDS, keyed by the part after the area's dot.
`tell` makes a sentence at once and is for pages, print and commands only.
"""

from __future__ import annotations

from app.words.message import Field, Message, Text, joined, pack, plain, say, short, term, theorem, unpack
from app.words.rendering import (
    ENGLISH,
    LANGUAGES,
    Reader,
    catalogue,
    language_of,
    reader,
    reading,
    render,
    speak,
    speaking,
    tell,
)

__all__ = [
    "ENGLISH", "LANGUAGES", "Field", "Message", "Reader", "Text", "catalogue", "joined", "language_of", "pack", "plain",
    "reader", "reading", "render", "say", "short", "speak", "speaking", "tell", "term", "theorem", "unpack",
]
