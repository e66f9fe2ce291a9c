"""What the program says. Messages are made anywhere (`say("figure.too_many_lines", most=12)`), as data; their
sentences are made last, where something is shown, in the reader's language and with the names of the reader's house.

A catalogue is a plain dict in `app/words/<language>/<area>.py`, named WORDS, keyed by the part after the area's dot.
`tell` makes a sentence at once and is for pages, print and commands only.
"""

from __future__ import annotations

from app.words.keeping import pack, unpack
from app.words.message import Field, Message, Text, joined, plain, say, short, term, theorem
from app.words.notation import in_words
from app.words.rendering import (
    ENGLISH,
    LANGUAGES,
    Reader,
    catalogue,
    language_of,
    reader,
    reader_of,
    reading,
    render,
    speak,
    speaking,
    tell,
    turn_to,
)

__all__ = [
    "ENGLISH",
    "LANGUAGES",
    "Field",
    "Message",
    "Reader",
    "Text",
    "catalogue",
    "in_words",
    "joined",
    "language_of",
    "pack",
    "plain",
    "reader",
    "reader_of",
    "reading",
    "render",
    "say",
    "short",
    "speak",
    "speaking",
    "tell",
    "term",
    "theorem",
    "turn_to",
    "unpack",
]
