"""Lo que va entre las partes de una lista."""

WORDS: dict[str, str] = {
    "and": "{all} y {last}",
    "or": "{all} o {last}",
    "comma": ", ",
    "semicolon": "; ",
}
