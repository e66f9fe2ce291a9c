"""Input that can't be used: a code, the place, and the fields of its sentence.

Every core layer raises these. The sentence is made late, from the catalogues, so that it can be
translated, bettered and tested apart from the rule that was broken.
"""

from __future__ import annotations

from app.words import Message, Text, render, say

__all__ = ["Fault", "Faults", "shown"]

LONGEST_QUOTE = 24


class Fault(Exception):
    """One thing wrong with what was given.

    `code` is a catalogue key ("figure.line_unknown"), `where` a dotted place ("figure.lines.l.direction").
    """

    def __init__(self, code: str, where: str = "", **fields: object) -> None:
        super().__init__(code, where)
        self.code = code
        self.where = where
        self.fields: dict[str, object] = fields

    @property
    def message(self) -> Message:
        """What is wrong there, and how to mend it."""
        return Message(self.code, self.fields)

    def sentence(self) -> str:
        """The same as one plain sentence, for whoever reads just now."""
        return render(self.message)

    def __str__(self) -> str:
        return f"{self.where}: {self.sentence()}" if self.where else self.sentence()


class Faults(list[Fault]):
    """All that is wrong with a thing judged as a whole."""

    def sentences(self) -> list[str]:
        return [str(fault) for fault in self]


def shown(value: object) -> Text:
    """A short printable quotation of whatever was given, safe to put in a sentence."""
    text = kind(value)
    if not isinstance(text, str):
        return text
    clean = "".join(c if c.isprintable() else "?" for c in text[: LONGEST_QUOTE + 1])
    return clean if len(clean) <= LONGEST_QUOTE else clean[: LONGEST_QUOTE - 1] + "…"


def kind(value: object) -> Text:
    """What sort of JSON value this is, in words; numbers and texts stand for themselves."""
    if value is None or (isinstance(value, str) and not value.strip()):
        return say("figure.shown_nothing")
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        # int's own text form refuses thousands of digits, so a long one is never spelt out.
        return str(value) if value.bit_length() < 80 else say("figure.shown_long_number")
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, str):
        return value
    return say("figure.shown_list" if isinstance(value, (list, tuple)) else "figure.shown_object")
