"""The words of exercises: answers that can't be read, lines of working, standing, families, items, notes."""

from __future__ import annotations

READER: dict[str, str] = {
    "empty": "There is no answer yet; type a number such as 12.",
    "not_text": "An answer is a number or a short text; this is something else.",
    "too_long": "This is longer than {most} characters; write a shorter answer.",
    "too_many": "This has more than {most} numbers, letters and signs; split it over two lines.",
    "sign": "Place {place}: the sign “{sign}” isn't used here; write with digits, small letters, + - * / ( ) and =.",
    "word": "Place {place}: “{word}” isn't a letter of the problem; write one small letter, such as x.",
    "number": "Place {place}: this isn't a number; write it like 12 or 12.5.",
    "long_number": "Place {place}: this number has more than {most} digits; no angle here needs so many.",
    "letters": "There are more than {most} different letters here; use the letters of the problem.",
    "double_star": "Place {place}: write a square as x² or x^2.",
    "exponent": "Place {place}: only squares are used here; write x² or x^2.",
    "degree": "Place {place}: this would be a power above {most}; no problem here needs one.",
    "divide": "Place {place}: divide by a number that isn't zero.",
    "deep": "Place {place}: more than {most} brackets inside each other; write it more simply.",
    "open": "Place {place}: this bracket is never closed; put a ) after what belongs inside.",
    "closing": "Place {place}: this bracket was never opened; put a ( before, or leave it out.",
    "two_numbers": "Place {place}: two numbers stand side by side; put a sign between them, or write 3 1/2 as 3.5.",
    "number_after": "Place {place}: a number goes before its letter or bracket: 2x, not x2.",
    "stray": "Place {place}: “{sign}” doesn't fit here; write one expression, or one equation.",
    "expected": "Place {place}: a number, a letter or a bracket is missing before “{sign}”.",
    "unfinished": "Place {place}: something is missing at the end.",
    "not_a_number": "This isn't a single number; write something like 12, 12.5 or 25/2.",
    "equals_here": "Only an expression is wanted here, without an equals sign.",
    "no_equals": "Place {place}: an equals sign is missing; each line of working is an equation.",
    "one_letter": "The problem has one unknown, but this line has {letters}; keep to one letter.",
    "linear_only": "With two unknowns each line is one linear equation, or several joined by “and”.",
    "many_lines": "That is more than {most} lines of working; leave out the steps you don't need.",
}

WORKING: dict[str, str] = {
    "line_first": "A start.",
    "line_setup": "This is what the figure says.",
    "line_same": "It follows.",
    "line_follows": "It follows.",
    "line_true": "That is true.",
    "line_false": "That isn't true: work out both sides again.",
    "line_dropped": "{letter} = {value} may be left out: an angle of the figure would not be between 0° and 180°.",
    "line_lost": "{letter} = {value} also makes the line above true, and it is lost here.",
    "line_not_figure": "This isn't what the figure says. What must the two angles be to each other: congruent, or supplementary?",
    "line_not_follow": "This doesn't follow from the lines above and the figure.",
    "line_evidence": "This doesn't follow: put {letter} = {value} into the line above and it reads {left} = {right}.",
    "line_other": "This line isn't true for the same numbers as the line above.",
    "slip_bracket_first": "The number in front of the bracket multiplies every term inside, not only the first.",
    "slip_bracket_minus": "The minus sign in front of the bracket changes every sign inside, not only the first.",
    "slip_bracket_square": "Squaring a sum gives a middle term too: (a + b)² = a² + 2ab + b².",
    "slip_unlike": "{sum} is not {lump}: a number of {letter}'s and a plain number can't be lumped together.",
    "slip_sign": "You took {term} from the {from_side} and added {term} on the {to_side}: do the same on both sides.",
    "slip_one_side_added": "You added {amount} on the {side} only: do the same on both sides.",
    "slip_one_side_taken": "You took {amount} from the {side} only: do the same on both sides.",
    "slip_one_side_times": "You multiplied the {side} by {factor} and left the other side: do the same on both sides.",
    "slip_one_side": "Only the {side} changed, from {was} to {now}: do the same on both sides.",
    "slip_divide_subtract": "You divided one side by {number}, but took {number} from the other: divide {value} by {number}.",
    "slip_divide_sign": "You divided one side by {number}, but the sign of the other changed: divide it by {number} too.",
    "slip_divide_multiply": "You divided one side by {number}, but multiplied the other: divide {value} by {number}.",
    "side_left": "left side",
    "side_right": "right side",
}

STANDING: dict[str, str] = {
    "standing_new": "not tried yet",
    "standing_begun": "just begun",
    "standing_coming": "coming along",
    "standing_nearly": "nearly there",
    "standing_firm": "sure of it",
}

WORDS: dict[str, str] = {**READER, **WORKING, **STANDING}
