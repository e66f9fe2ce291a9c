"""What stands between the parts of a list."""

WORDS: dict[str, str] = {
    "and": "{all} and {last}",
    "or": "{all} or {last}",
    "comma": ", ",
    "semicolon": "; ",
}
