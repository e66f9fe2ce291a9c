"""House words: the names a teacher's own textbook uses for the theorems and the angle pairs.

A house is data: `house("us").name("corresponding-angles-converse")`. Theorem ids are the reason ids of
the calculator contract. Changing the house changes menus, hints, speech and print, and no code. Words
of every house are accepted from a student; `accepts` tells which theorem was meant.

Sources: the US, UK and Spanish columns of the project's vocabulary table; Spanish theorem names are
from general knowledge and await a Spanish-speaking teacher's eye. "F, Z, C angles" are memory hooks in
UK classrooms that earn no reason mark, so no house accepts them.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cache

__all__ = ["HOUSES", "House", "house"]

PAIR_TERMS = (
    "corresponding",
    "alternate interior",
    "alternate exterior",
    "consecutive interior",
    "consecutive exterior",
    "vertical",
    "linear pair",
)


@dataclass(frozen=True)
class House:
    """One set of names. `key` is its id, `lang` a BCP 47 tag for speech and print."""

    key: str
    title: str
    lang: str
    names: Mapping[str, str]
    shorts: Mapping[str, str]
    terms: Mapping[str, str]
    also: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    # Whether all names are sentences ("alternate angles are equal"), which stand quoted where a noun is wanted.
    sentences: bool = False

    def is_sentence(self, theorem: str) -> bool:
        return self.sentences or theorem in _SENTENCES

    def name(self, theorem: str) -> str:
        """The full name: "Corresponding Angles Converse". An unknown id is a KeyError."""
        return self.names[theorem]

    def short(self, theorem: str) -> str:
        """The abbreviation a teacher writes in the margin; the full name where there is none."""
        return self.shorts.get(theorem, self.names[theorem])

    def form(self, theorem: str, form: str = "") -> str:
        """The name as a sentence needs it; `app.words.rendering` says which forms there are."""
        name = self.names[theorem]
        if form == "label":
            return name
        if self.is_sentence(theorem):
            if form == "aside":
                return _small(name)
            quoted = f"“{name}”" if form in ("cap", "The") else f"“{_small(name)}”"
            return f"de {quoted}" if form == "of" and self.lang.startswith("es") else quoted
        in_sentence = _GRAMMAR.get(self.lang.split("-")[0])
        return in_sentence(name, form) if in_sentence else name

    def term(self, key: str) -> str:
        """A word of the lesson: a pair name ("alternate interior") or "transversal", "supplementary", …"""
        return self.terms.get(key, key)

    def accepts(self, text: str) -> str | None:
        """The theorem id that `text` names in this house, or else in any house, or None."""
        if len(text) > 120:
            return None
        for loose in (False, True):
            wanted = _plain(text, loose)
            found = _index(self.key, loose).get(wanted) or _everybody(loose).get(wanted)
            if wanted and found:
                return found
        return None


# What has no name that every book knows is called by what it says.
_SENTENCES = frozenset({
    "congruent-supplements", "congruent-complements", "right-angles-congruent", "parallel-to-same-line",
    "perpendicular-to-same-line",
})  # fmt: skip
# Names that take no article.
_BARE = {"Given", "Algebra", "Substitution"}
# The article of a Spanish name goes by its first word: "el" for all but these, and none for the bare ones.
_LA = {"Definición", "Propiedad"}
_BARE_ES = {"Dado", "Álgebra"}


def _small(name: str) -> str:
    return name[:1].lower() + name[1:]


def _english(name: str, form: str) -> str:
    """An English name in a sentence: as it is, with its article where one is wanted and it takes one."""
    if form in ("the", "of", "The") and name.split()[0] not in _BARE:
        return ("The " if form == "The" else "the ") + name
    return name


def _spanish(name: str, form: str) -> str:
    """A Spanish name in a sentence: small, with its article where one is wanted ("de" and "el" make "del")."""
    if form in ("", "cap"):
        return name
    small = _small(name)
    if form in ("low", "aside"):
        return small
    first = name.split()[0]
    if first in _BARE_ES:
        return f"de {small}" if form == "of" else name if form == "The" else small
    article = "la" if first in _LA else "el"
    if form == "of":
        return f"del {small}" if article == "el" else f"de {article} {small}"
    return f"{article.capitalize() if form == 'The' else article} {small}"


# language → its names in a sentence. In one that isn't here they stand as they are.
_GRAMMAR: Mapping[str, Callable[[str, str], str]] = {"en": _english, "es": _spanish}


def _plain(text: str, loose: bool) -> str:
    """The words that carry the name, in small letters without punctuation; if `loose`, with short forms
    written out and "the", "of", "angles", … left out.
    """
    text = unicodedata.normalize("NFD", text.casefold().replace("s-s", "same side"))
    text = "".join(c for c in text if not unicodedata.combining(c))
    text = text.replace("∠", " angle ").replace("≅", " congruent ").replace("⊥", " perpendicular ")
    text = text.replace("∥", " parallel ").replace("∆", " triangle ").replace("△", " triangle ")
    words = re.findall(r"[^\W_]+", text)
    if not loose:
        return " ".join(words)
    words = [_SAME.get(word, word) for word in words]
    return " ".join(word for word in words if word not in _EMPTY)


_EMPTY = {
    "the",
    "a",
    "an",
    "of",
    "s",
    "angle",
    "angles",
    "theorem",
    "postulate",
    "thm",
    "post",
    "are",
    "is",
    "by",
    "property",
    "prop",
    "properties",
    "then",
    "so",
    "equality",
    "congruence",
    "los",
    "las",
    "el",
    "la",
    "de",
    "del",
    "angulos",
    "angulo",
    "teorema",
    "postulado",
    "propiedad",
    "entonces",
    "por",
    "son",
    "equal",
    "iguales",
    "lines",
}
_SAME = {
    "corr": "corresponding",
    "conv": "converse",
    "alt": "alternate",
    "int": "interior",
    "ext": "exterior",
    "cons": "consecutive",
    "consec": "consecutive",
    "vert": "vertical",
    "lin": "linear",
    "def": "definition",
    "defn": "definition",
    "supp": "supplementary",
    "supps": "supplements",
    "comp": "complementary",
    "comps": "complements",
    "perp": "perpendicular",
    "subst": "substitution",
    "trans": "transitive",
    "subtr": "subtraction",
    "refl": "reflexive",
    "sym": "symmetric",
    "transv": "transversal",
    "rt": "right",
    "cong": "congruent",
    "add": "addition",
    "supplement": "supplements",
    "complement": "complements",
    "coincidentes": "congruentes",
}

_US = {
    "given": "Given",
    "vertical-angles": "Vertical Angles Theorem",
    "linear-pair": "Linear Pair Postulate",
    "corresponding-angles": "Corresponding Angles Postulate",
    "alternate-interior-angles": "Alternate Interior Angles Theorem",
    "alternate-exterior-angles": "Alternate Exterior Angles Theorem",
    "consecutive-interior-angles": "Consecutive Interior Angles Theorem",
    "consecutive-exterior-angles": "Consecutive Exterior Angles Theorem",
    "corresponding-angles-converse": "Corresponding Angles Converse",
    "alternate-interior-angles-converse": "Alternate Interior Angles Converse",
    "alternate-exterior-angles-converse": "Alternate Exterior Angles Converse",
    "consecutive-interior-angles-converse": "Consecutive Interior Angles Converse",
    "consecutive-exterior-angles-converse": "Consecutive Exterior Angles Converse",
    "definition-of-supplementary": "Definition of supplementary angles",
    "definition-of-complementary": "Definition of complementary angles",
    "definition-of-congruent": "Definition of congruent angles",
    "definition-of-perpendicular": "Definition of perpendicular lines",
    "definition-of-parallel": "Definition of parallel lines",
    "definition-of-bisector": "Definition of angle bisector",
    "congruent-supplements": "Supplements of congruent angles are congruent",
    "congruent-complements": "Complements of congruent angles are congruent",
    "right-angles-congruent": "All right angles are congruent",
    "reflexive": "Reflexive Property",
    "symmetric": "Symmetric Property",
    "transitive": "Transitive Property",
    "substitution": "Substitution Property",
    "addition": "Addition Property",
    "subtraction": "Subtraction Property",
    "angle-addition": "Angle Addition Postulate",
    "parallel-to-same-line": "Lines parallel to the same line are parallel",
    "perpendicular-to-same-line": "Lines perpendicular to the same line are parallel",
    "perpendicular-transversal": "Perpendicular Transversal Theorem",
    "triangle-sum": "Triangle Angle Sum Theorem",
    "quadrilateral-sum": "Quadrilateral Angle Sum Theorem",
    "exterior-angle": "Exterior Angle Theorem",
    "algebra": "Algebra",
}

_US_SHORT = {
    "vertical-angles": "Vert. ∠s",
    "linear-pair": "Lin. pair",
    "corresponding-angles": "Corr. ∠s",
    "alternate-interior-angles": "Alt. int. ∠s",
    "alternate-exterior-angles": "Alt. ext. ∠s",
    "consecutive-interior-angles": "Cons. int. ∠s",
    "consecutive-exterior-angles": "Cons. ext. ∠s",
    "corresponding-angles-converse": "Corr. ∠s conv.",
    "alternate-interior-angles-converse": "Alt. int. ∠s conv.",
    "alternate-exterior-angles-converse": "Alt. ext. ∠s conv.",
    "consecutive-interior-angles-converse": "Cons. int. ∠s conv.",
    "consecutive-exterior-angles-converse": "Cons. ext. ∠s conv.",
    "definition-of-supplementary": "Def. supp. ∠s",
    "definition-of-complementary": "Def. comp. ∠s",
    "definition-of-congruent": "Def. ≅ ∠s",
    "definition-of-perpendicular": "Def. ⊥",
    "definition-of-parallel": "Def. ∥",
    "definition-of-bisector": "Def. ∠ bisector",
    "congruent-supplements": "≅ supps.",
    "congruent-complements": "≅ comps.",
    "right-angles-congruent": "Rt. ∠s ≅",
    "reflexive": "Refl.",
    "symmetric": "Sym.",
    "transitive": "Trans.",
    "substitution": "Subst.",
    "addition": "Add.",
    "subtraction": "Subtr.",
    "angle-addition": "∠ addition",
    "parallel-to-same-line": "∥ to one line",
    "perpendicular-to-same-line": "⊥ to one line",
    "perpendicular-transversal": "⊥ transv.",
    "triangle-sum": "△ ∠ sum",
    "quadrilateral-sum": "Quad. ∠ sum",
    "exterior-angle": "Ext. ∠",
}

_US_ALSO: dict[str, tuple[str, ...]] = {
    "vertical-angles": ("vertical angles", "vertical angles are congruent", "vertical"),
    "linear-pair": (
        "definition of linear pair",
        "linear pair",
        "linear pair theorem",
        "linear pairs are supplementary",
        "supplementary adjacent",
    ),
    "corresponding-angles": (
        "corresponding angles theorem",
        "corresponding angles",
        "if lines are parallel, corresponding angles are congruent",
        "if parallel then corresponding angles congruent",
    ),
    "alternate-interior-angles": ("if lines are parallel, alternate interior angles are congruent",),
    "alternate-exterior-angles": ("if lines are parallel, alternate exterior angles are congruent",),
    "consecutive-interior-angles": ("if lines are parallel, consecutive interior angles are supplementary",),
    "corresponding-angles-converse": (
        "converse of the corresponding angles postulate",
        "converse of the corresponding angles theorem",
        "converse of corresponding angles",
        "if corresponding angles are congruent, then lines are parallel",
        "corresponding angles congruent so parallel",
    ),
    "alternate-interior-angles-converse": (
        "converse of the alternate interior angles theorem",
        "if alternate interior angles are congruent, then lines are parallel",
    ),
    "alternate-exterior-angles-converse": (
        "converse of the alternate exterior angles theorem",
        "if alternate exterior angles are congruent, then lines are parallel",
    ),
    "consecutive-interior-angles-converse": (
        "converse of the consecutive interior angles theorem",
        "if consecutive interior angles are supplementary, then lines are parallel",
    ),
    "consecutive-exterior-angles-converse": ("converse of the consecutive exterior angles theorem",),
    "definition-of-supplementary": ("definition of supplementary", "supplementary angles"),
    "definition-of-complementary": ("definition of complementary", "complementary angles"),
    "definition-of-congruent": ("definition of congruent", "definition of congruence", "congruent angles"),
    "definition-of-perpendicular": (
        "definition of perpendicular",
        "perpendicular lines form right angles",
        "definition of right angle",
    ),
    "definition-of-parallel": (
        "definition of parallel",
        "lines that meet are not parallel",
        "lines that cross are not parallel",
        "lines that intersect are not parallel",
        "intersecting lines are not parallel",
        "parallel lines never meet",
        "parallel lines do not intersect",
    ),
    "definition-of-bisector": ("definition of bisector", "definition of an angle bisector", "bisector"),
    "congruent-supplements": (
        "congruent supplements theorem",
        "supplements of congruent angles",
        "supplements of the same angle are congruent",
        "congruent supplements",
    ),
    "congruent-complements": (
        "congruent complements theorem",
        "complements of congruent angles",
        "congruent complements",
        "complements of the same angle are congruent",
    ),
    "right-angles-congruent": (
        "right angles congruence theorem",
        "right angle congruence",
        "all right angles are congruent",
        "right angles congruent",
    ),
    "transitive": (
        "transitive property of congruence",
        "transitive property of equality",
        "transitive property of ≅",
    ),
    "symmetric": ("symmetric property of ≅",),
    "reflexive": ("reflexive property of ≅",),
    "addition": ("addition property of equality",),
    "subtraction": ("subtraction property of equality",),
    "angle-addition": ("angle addition", "straight angle"),
    "parallel-to-same-line": (
        "lines parallel to one line theorem",
        "transitive property of parallel lines",
        "transitive parallel",
        "lines parallel to the same line",
        "two lines parallel to the same line are parallel",
        "parallel to same line",
    ),
    "perpendicular-to-same-line": (
        "lines perpendicular to one line theorem",
        "lines perpendicular to a transversal theorem",
        "lines perpendicular to the same line",
        "perpendicular to same line",
        "two lines perpendicular to the same line are parallel",
    ),
    "triangle-sum": ("triangle sum theorem", "triangle sum", "angles of a triangle", "angle sum of a triangle"),
    "quadrilateral-sum": (
        "quadrilateral sum theorem",
        "quadrilateral sum",
        "angles of a quadrilateral",
        "angle sum of a quadrilateral",
        "sum of the angles of a quadrilateral",
    ),
    "exterior-angle": ("exterior angle of a triangle", "triangle exterior angle theorem"),
    "algebra": (
        "distributive property",
        "simplify",
        "solve",
        "arithmetic",
        "combine like terms",
        "division",
        "multiplication",
    ),
}

_US_TERMS = {
    "corresponding": "corresponding angles",
    "alternate interior": "alternate interior angles",
    "alternate exterior": "alternate exterior angles",
    "consecutive interior": "consecutive interior angles",
    "consecutive exterior": "consecutive exterior angles",
    "vertical": "vertical angles",
    "linear pair": "a linear pair",
    "same": "the same angle",
    "none": "not a named pair",
    "transversal": "transversal",
    "supplementary": "supplementary",
    "complementary": "complementary",
    "congruent": "congruent",
    "parallel": "parallel",
    "perpendicular": "perpendicular",
}


def _swap(table: Mapping[str, str], *changes: tuple[str, str]) -> dict[str, str]:
    changed = dict(table)
    for key, value in changed.items():
        for old, new in changes:
            value = value.replace(old, new)
        changed[key] = value
    return changed


_SIDE = (("Consecutive Interior", "Same-Side Interior"), ("Consecutive Exterior", "Same-Side Exterior"))
_SAME_SIDE = {
    **_swap(_US, *_SIDE),
    "corresponding-angles-converse": "Converse of the Corresponding Angles Postulate",
    "alternate-interior-angles-converse": "Converse of the Alternate Interior Angles Theorem",
    "alternate-exterior-angles-converse": "Converse of the Alternate Exterior Angles Theorem",
    "consecutive-interior-angles-converse": "Converse of the Same-Side Interior Angles Theorem",
    "consecutive-exterior-angles-converse": "Converse of the Same-Side Exterior Angles Theorem",
}
_SAME_SIDE_SHORT = _swap(_US_SHORT, ("Cons. int.", "S-s int."), ("Cons. ext.", "S-s ext."))
_SAME_SIDE_TERMS = _swap(_US_TERMS, ("consecutive", "same-side"))
_SAME_SIDE_ALSO = {
    "consecutive-interior-angles": ("same-side interior angles postulate", "s-s int", "co-interior angles"),
    "consecutive-interior-angles-converse": ("same-side interior angles converse", "s-s int conv"),
    "consecutive-exterior-angles": ("same-side exterior angles", "s-s ext"),
    "consecutive-exterior-angles-converse": ("same-side exterior angles converse", "s-s ext conv"),
}

_UK = {
    "given": "Given",
    "vertical-angles": "Vertically opposite angles are equal",
    "linear-pair": "Angles on a straight line add to 180°",
    "corresponding-angles": "Corresponding angles are equal",
    "alternate-interior-angles": "Alternate angles are equal",
    "alternate-exterior-angles": "Alternate exterior angles are equal",
    "consecutive-interior-angles": "Co-interior angles add to 180°",
    "consecutive-exterior-angles": "Co-exterior angles add to 180°",
    "corresponding-angles-converse": "Corresponding angles are equal, so parallel",
    "alternate-interior-angles-converse": "Alternate angles are equal, so parallel",
    "alternate-exterior-angles-converse": "Alternate exterior angles are equal, so parallel",
    "consecutive-interior-angles-converse": "Co-interior angles sum to 180°, so parallel",
    "consecutive-exterior-angles-converse": "Co-exterior angles sum to 180°, so parallel",
    "definition-of-supplementary": "Supplementary angles add to 180°",
    "definition-of-complementary": "Complementary angles add to 90°",
    "definition-of-congruent": "Equal angles have equal sizes",
    "definition-of-perpendicular": "Perpendicular lines meet at 90°",
    "definition-of-parallel": "Parallel lines never meet",
    "definition-of-bisector": "A bisector halves the angle",
    "congruent-supplements": "Supplements of equal angles are equal",
    "congruent-complements": "Complements of equal angles are equal",
    "right-angles-congruent": "All right angles are equal",
    "reflexive": "Common angle",
    "symmetric": "The same fact turned round",
    "transitive": "Both equal to the same angle",
    "substitution": "Substitution",
    "addition": "Adding equals",
    "subtraction": "Subtracting equals",
    "angle-addition": "Adjacent parts make the whole angle",
    "parallel-to-same-line": "Both parallel to the same line",
    "perpendicular-to-same-line": "Both perpendicular to the same line",
    "perpendicular-transversal": "Perpendicular to one of two parallels",
    "triangle-sum": "Angles in a triangle add to 180°",
    "quadrilateral-sum": "Angles in a quadrilateral add to 360°",
    "exterior-angle": "Exterior angle equals the sum of the interior opposite angles",
    "algebra": "Algebra",
}
_UK_TERMS = {
    **_US_TERMS,
    "alternate interior": "alternate angles",
    "alternate exterior": "alternate exterior angles",
    "consecutive interior": "co-interior angles",
    "consecutive exterior": "co-exterior angles",
    "vertical": "vertically opposite angles",
    "linear pair": "angles on a straight line",
    "congruent": "equal",
}
_UK_ALSO = {
    "alternate-interior-angles": ("alternate angles",),
    "alternate-interior-angles-converse": ("alternate angles so parallel", "alternate angles converse"),
    "consecutive-interior-angles": ("allied angles", "co-interior angles", "allied angles add to 180"),
    "consecutive-interior-angles-converse": ("co-interior angles converse", "allied angles converse"),
    "vertical-angles": ("vertically opposite angles", "opposite angles"),
    "linear-pair": ("angles on a straight line", "adjacent angles on a straight line"),
    "triangle-sum": ("angle sum of triangle",),
    "quadrilateral-sum": ("angle sum of quadrilateral",),
}

_ES = {
    "given": "Dado",
    "vertical-angles": "Teorema de los ángulos opuestos por el vértice",
    "linear-pair": "Postulado del par lineal",
    "corresponding-angles": "Postulado de los ángulos correspondientes",
    "alternate-interior-angles": "Teorema de los ángulos alternos internos",
    "alternate-exterior-angles": "Teorema de los ángulos alternos externos",
    "consecutive-interior-angles": "Teorema de los ángulos conjugados internos",
    "consecutive-exterior-angles": "Teorema de los ángulos conjugados externos",
    "corresponding-angles-converse": "Recíproco del postulado de los ángulos correspondientes",
    "alternate-interior-angles-converse": "Recíproco del teorema de los ángulos alternos internos",
    "alternate-exterior-angles-converse": "Recíproco del teorema de los ángulos alternos externos",
    "consecutive-interior-angles-converse": "Recíproco del teorema de los ángulos conjugados internos",
    "consecutive-exterior-angles-converse": "Recíproco del teorema de los ángulos conjugados externos",
    "definition-of-supplementary": "Definición de ángulos suplementarios",
    "definition-of-complementary": "Definición de ángulos complementarios",
    "definition-of-congruent": "Definición de ángulos congruentes",
    "definition-of-perpendicular": "Definición de rectas perpendiculares",
    "definition-of-parallel": "Definición de rectas paralelas",
    "definition-of-bisector": "Definición de bisectriz",
    "congruent-supplements": "Los suplementos de ángulos congruentes son congruentes",
    "congruent-complements": "Los complementos de ángulos congruentes son congruentes",
    "right-angles-congruent": "Todos los ángulos rectos son congruentes",
    "reflexive": "Propiedad reflexiva",
    "symmetric": "Propiedad simétrica",
    "transitive": "Propiedad transitiva",
    "substitution": "Propiedad de sustitución",
    "addition": "Propiedad de la suma",
    "subtraction": "Propiedad de la resta",
    "angle-addition": "Postulado de la suma de ángulos",
    "parallel-to-same-line": "Las rectas paralelas a una misma recta son paralelas",
    "perpendicular-to-same-line": "Las rectas perpendiculares a una misma recta son paralelas",
    "perpendicular-transversal": "Teorema de la transversal perpendicular",
    "triangle-sum": "Teorema de la suma de los ángulos de un triángulo",
    "quadrilateral-sum": "Teorema de la suma de los ángulos de un cuadrilátero",
    "exterior-angle": "Teorema del ángulo exterior",
    "algebra": "Álgebra",
}
_ES_SHORT = {
    "vertical-angles": "∠ op. por el vért.",
    "linear-pair": "Par lineal",
    "corresponding-angles": "∠ corresp.",
    "alternate-interior-angles": "∠ alt. int.",
    "alternate-exterior-angles": "∠ alt. ext.",
    "consecutive-interior-angles": "∠ conj. int.",
    "consecutive-exterior-angles": "∠ conj. ext.",
    "corresponding-angles-converse": "Recípr. ∠ corresp.",
    "alternate-interior-angles-converse": "Recípr. ∠ alt. int.",
    "alternate-exterior-angles-converse": "Recípr. ∠ alt. ext.",
    "consecutive-interior-angles-converse": "Recípr. ∠ conj. int.",
    "consecutive-exterior-angles-converse": "Recípr. ∠ conj. ext.",
    "definition-of-supplementary": "Def. ∠ supl.",
    "definition-of-complementary": "Def. ∠ compl.",
    "definition-of-congruent": "Def. ∠ ≅",
    "definition-of-perpendicular": "Def. ⊥",
    "definition-of-parallel": "Def. ∥",
    "definition-of-bisector": "Def. bisectriz",
    "congruent-supplements": "Supl. ≅",
    "congruent-complements": "Compl. ≅",
    "right-angles-congruent": "∠ rectos ≅",
    "reflexive": "Prop. reflex.",
    "symmetric": "Prop. simétr.",
    "transitive": "Prop. transit.",
    "substitution": "Sustit.",
    "addition": "Prop. suma",
    "subtraction": "Prop. resta",
    "angle-addition": "Suma de ∠",
    "parallel-to-same-line": "∥ a una misma recta",
    "perpendicular-to-same-line": "⊥ a una misma recta",
    "perpendicular-transversal": "Transv. ⊥",
    "triangle-sum": "Suma ∠ △",
    "quadrilateral-sum": "Suma ∠ cuadril.",
    "exterior-angle": "∠ exterior",
}
_ES_TERMS = {
    "corresponding": "ángulos correspondientes",
    "alternate interior": "ángulos alternos internos",
    "alternate exterior": "ángulos alternos externos",
    "consecutive interior": "ángulos conjugados internos",
    "consecutive exterior": "ángulos conjugados externos",
    "vertical": "ángulos opuestos por el vértice",
    "linear pair": "un par lineal",
    "same": "el mismo ángulo",
    "none": "ninguno de estos pares",
    "transversal": "transversal",
    "supplementary": "suplementarios",
    "complementary": "complementarios",
    "congruent": "congruentes",
    "parallel": "paralelas",
    "perpendicular": "perpendiculares",
}
# What classes write instead of a name.
_ES_ALSO: dict[str, tuple[str, ...]] = {
    "given": ("dato", "datos", "hipótesis"),
    "vertical-angles": (
        "ángulos opuestos por el vértice",
        "opuestos por el vértice",
        "los ángulos opuestos por el vértice son congruentes",
    ),
    "linear-pair": (
        "par lineal",
        "teorema del par lineal",
        "definición de par lineal",
        "adyacentes suplementarios",
        "los pares lineales son suplementarios",
        "los ángulos de un par lineal son suplementarios",
    ),
    "corresponding-angles": (
        "ángulos correspondientes",
        "teorema de los ángulos correspondientes",
        "si las rectas son paralelas, los ángulos correspondientes son congruentes",
    ),
    "alternate-interior-angles": (
        "ángulos alternos internos",
        "si las rectas son paralelas, los ángulos alternos internos son congruentes",
    ),
    "alternate-exterior-angles": (
        "ángulos alternos externos",
        "si las rectas son paralelas, los ángulos alternos externos son congruentes",
    ),
    "corresponding-angles-converse": (
        "recíproco de los ángulos correspondientes",
        "recíproco del teorema de los ángulos correspondientes",
        "si los ángulos correspondientes son congruentes, las rectas son paralelas",
    ),
    "alternate-interior-angles-converse": (
        "recíproco de los ángulos alternos internos",
        "recíproco de los alternos internos",
        "si los ángulos alternos internos son congruentes, las rectas son paralelas",
    ),
    "alternate-exterior-angles-converse": (
        "recíproco de los ángulos alternos externos",
        "recíproco de los alternos externos",
        "si los ángulos alternos externos son congruentes, las rectas son paralelas",
    ),
    "definition-of-perpendicular": ("definición de perpendicular", "definición de ángulo recto"),
    "definition-of-parallel": (
        "las rectas que se cortan no son paralelas",
        "rectas secantes",
        "las rectas paralelas nunca se cortan",
    ),
    "definition-of-bisector": ("definición de bisectriz de un ángulo", "bisectriz"),
    "definition-of-supplementary": ("ángulos suplementarios", "definición de suplementarios"),
    "definition-of-complementary": ("ángulos complementarios", "definición de complementarios"),
    "definition-of-congruent": ("ángulos congruentes", "definición de congruencia", "definición de congruentes"),
    "congruent-supplements": (
        "teorema de los suplementos congruentes",
        "suplementos congruentes",
        "suplementos de ángulos congruentes",
        "suplementos de un mismo ángulo",
    ),
    "congruent-complements": (
        "teorema de los complementos congruentes",
        "complementos congruentes",
        "complementos de ángulos congruentes",
        "complementos de un mismo ángulo",
    ),
    "right-angles-congruent": (
        "teorema de la congruencia de los ángulos rectos",
        "congruencia de ángulos rectos",
        "todos los ángulos rectos son congruentes",
    ),
    "substitution": ("sustitución",),
    "addition": ("propiedad aditiva", "suma de iguales"),
    "subtraction": ("propiedad sustractiva", "resta de iguales"),
    "angle-addition": ("suma de ángulos", "ángulo llano"),
    "parallel-to-same-line": (
        "teorema de las rectas paralelas a una misma recta",
        "rectas paralelas a una misma recta",
        "propiedad transitiva de las paralelas",
    ),
    "perpendicular-to-same-line": (
        "teorema de las rectas perpendiculares a una misma recta",
        "rectas perpendiculares a una misma recta",
    ),
    "perpendicular-transversal": ("transversal perpendicular",),
    "triangle-sum": ("suma de los ángulos de un triángulo", "ángulos de un triángulo"),
    "quadrilateral-sum": ("suma de los ángulos de un cuadrilátero", "ángulos de un cuadrilátero"),
    "exterior-angle": ("ángulo exterior de un triángulo", "teorema del ángulo exterior de un triángulo"),
    "algebra": ("propiedad distributiva", "simplificar", "resolver", "aritmética", "división", "multiplicación"),
}


def _co_interior_names(names: str) -> tuple[str, ...]:
    """What is written for the two theorems about angles between the lines on one side, `names` being what the angles
    are called: the pair itself, and the theorem said as a sentence.
    """
    return (f"ángulos {names}", names, f"si las rectas son paralelas, los ángulos {names} son suplementarios")


def _co_interior_converses(names: str) -> tuple[str, ...]:
    return (
        f"recíproco de los ángulos {names}",
        f"recíproco de los {names}",
        f"si los ángulos {names} son suplementarios, las rectas son paralelas",
    )


# Spanish-speaking classes have three names for two angles on one side of the transversal; each is a house.
_SAME_SIDES = {
    "es": ("conjugados internos", "conjugados externos", "conj. int.", "conj. ext."),
    "es-same-side": ("internos del mismo lado", "externos del mismo lado", "int. mismo lado", "ext. mismo lado"),
    "es-collateral": ("colaterales internos", "colaterales externos", "colat. int.", "colat. ext."),
}
for _names in (*_SAME_SIDES.values(), ("consecutivos internos", "consecutivos externos", "", "")):
    for _where, _name in zip(("interior", "exterior"), _names[:2], strict=True):
        for _theorem, _more in (
            (f"consecutive-{_where}-angles", _co_interior_names(_name)),
            (f"consecutive-{_where}-angles-converse", _co_interior_converses(_name)),
        ):
            _ES_ALSO[_theorem] = (*_ES_ALSO.get(_theorem, ()), *_more)


def _spanish_house(key: str, title: str) -> House:
    inner, outer, short_inner, short_outer = _SAME_SIDES[key]
    conjugate = _SAME_SIDES["es"]
    changes = tuple(zip(conjugate, (inner, outer, short_inner, short_outer), strict=True))
    return House(
        key,
        title,
        "es",
        _swap(_ES, *changes),
        _swap(_ES_SHORT, *changes),
        _swap(_ES_TERMS, *changes),
        _ES_ALSO,
    )


HOUSES: dict[str, House] = {
    "us": House("us", "US, consecutive interior", "en-US", _US, _US_SHORT, _US_TERMS, _US_ALSO),
    "us-same-side": House(
        "us-same-side",
        "US, same-side interior",
        "en-US",
        _SAME_SIDE,
        _SAME_SIDE_SHORT,
        _SAME_SIDE_TERMS,
        _SAME_SIDE_ALSO,
    ),
    "uk": House("uk", "UK", "en-GB", _UK, {}, _UK_TERMS, _UK_ALSO, sentences=True),
    "es": _spanish_house("es", "Español: conjugados internos"),
    "es-same-side": _spanish_house("es-same-side", "Español: internos del mismo lado"),
    "es-collateral": _spanish_house("es-collateral", "Español: colaterales internos"),
}


def house(name: str = "us") -> House:
    """The house called `name`; an unknown name is a KeyError (packs are checked when they load)."""
    return HOUSES[name]


@cache
def _index(key: str, loose: bool) -> dict[str, str]:
    """Plain words → theorem id, for one house; the first theorem of the table keeps a shared spelling."""
    words = HOUSES[key]
    index: dict[str, str] = {}
    for theorem, name in words.names.items():
        for text in (theorem.replace("-", " "), name, words.shorts.get(theorem, name), *words.also.get(theorem, ())):
            index.setdefault(_plain(text, loose), theorem)
    return index


@cache
def _everybody(loose: bool) -> dict[str, str]:
    index: dict[str, str] = {}
    for key in HOUSES:
        for text, theorem in _index(key, loose).items():
            index.setdefault(text, theorem)
    return index
