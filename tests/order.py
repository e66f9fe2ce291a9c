"""In which order files of tests are begun: the longest first, so that none is still at work when the others are done.

Seconds of processor time, measured; what isn't named takes less than the last one named. `tests/test_order.py` holds the names.
"""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parent

LONGEST = {
    "browser/lesson/test_webkit.py": 77,
    "browser/lesson/test_pseudo.py": 75,
    "browser/lesson/test_in_sight.py": 58,
    "browser/lesson/test_by_taps.py": 54,
    "browser/lesson/test_states.py": 49,
    "browser/lesson/test_by_keys.py": 47,
    "browser/lesson/test_by_mouse.py": 46,
    "browser/seat/test_order.py": 45,
    "browser/desk/test_board.py": 42,
    "browser/desk/test_period.py": 40,
    "browser/practice/test_connect.py": 38,
    "browser/seat/test_explore.py": 33,
    "browser/lesson/test_firefox.py": 32,
    "browser/prove/test_prove.py": 32,
    "sheets/test_fill.py": 31,
    "browser/desk/test_prepare.py": 30,
    "browser/lesson/test_whole_lesson.py": 30,
    "browser/seat/test_targets.py": 30,
    "browser/construct/test_whole.py": 29,
    "browser/seat/test_ink.py": 26,
    "browser/seat/test_focus.py": 26,
    "sheets/test_identity.py": 25,
    "practice/test_forms.py": 24,
    "browser/practice/test_exercises.py": 24,
    "browser/seat/test_seat.py": 24,
    "browser/lesson/test_offline.py": 22,
    "sheets/test_print.py": 22,
    "practice/test_families.py": 22,
    "browser/construct/test_paper.py": 21,
    "browser/practice/test_sheet_pages.py": 20,
    "browser/lesson/test_spanish.py": 20,
    "browser/seat/test_classify.py": 19,
    "browser/test_serving.py": 18,
    "browser/lesson/test_by_touch.py": 17,
    "browser/lesson/test_support_forms.py": 17,
    "practice/test_misconceptions.py": 17,
    "attack/test_quick.py": 17,
}
PLACES = {name: n for n, name in enumerate(LONGEST)}


def place(path: Path) -> int:
    """Where in the row a file comes: those named first, then what drives a browser or a server, then the rest."""
    try:
        name = path.relative_to(ROOT).as_posix()
    except ValueError:
        return len(PLACES) + 2
    slow = name.startswith(("browser/", "attack/", "web/test_running_server", "sheets/", "practice/"))
    return PLACES.get(name, len(PLACES) + (not slow))
