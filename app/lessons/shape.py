"""From pydantic's errors to our faults: where, expected, found, near match; all of them.

A misspelt key shows up twice in pydantic's list (one key missing, another not known); it is one fault here.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError, create_model

from app.words import Message, Text, say

from .faults import PackFault, near, shown
from .locate import Lines

__all__ = ["Path", "Place", "judge_shape", "judge_what_can_be"]

M = TypeVar("M", bound=BaseModel)

Path = tuple[str | int, ...]

_TYPES = {
    "string_type": "text",
    "int_type": "whole",
    "int_from_float": "whole",
    "bool_type": "switch",
    "list_type": "list",
    "dict_type": "table",
    "model_type": "table",
    "model_attributes_type": "table",
    "float_type": "number",
}
_RANGES = {
    "greater_than_equal": ("least", "ge"),
    "less_than_equal": ("most", "le"),
    "string_too_short": ("letters.least", "min_length"),
    "string_too_long": ("letters.most", "max_length"),
    "too_short": ("items.least", "min_length"),
    "too_long": ("items.most", "max_length"),
}


class Place:
    """Where in the file we are, so that a fault can say it."""

    def __init__(
        self, file: str, lines: Lines, path: Path = (), *, part: str | None = None, task: Text | None = None
    ) -> None:
        self.file, self.lines, self.path, self.part, self.task = file, lines, path, part, task

    def into(self, *keys: str | int, part: str | None = None, task: Text | None = None) -> Place:
        path = (*self.path, *keys)
        return Place(self.file, self.lines, path, part=part or self.part, task=task or self.task)

    def at(self, *path: str | int, part: str | None = None, task: Text | None = None) -> Place:
        """Another place of the same file."""
        return Place(self.file, self.lines, path, part=part, task=task)

    def fault(self, fault: str, where: Path = (), *, near: tuple[str, ...] = (), **fields: object) -> PackFault:
        """A fault of this kind (its catalogue key) at `where` here, with the fields of its sentences."""
        return PackFault(
            code=fault,
            file=self.file,
            where=dotted(where),
            task=self.task,
            part=self.part,
            line=self.lines.find((*self.path, *where)),
            near=near,
            fields={name: value if isinstance(value, Message) else str(value) for name, value in fields.items()},
        )


def dotted(path: Path) -> str:
    """A path as authors read it: `pairs[3]` is the third pair."""
    text = ""
    for key in path:
        text += f"[{key + 1}]" if isinstance(key, int) else f".{key}" if text else key
    return text


def judge_shape(model: type[BaseModel], raw: object, place: Place, prefix: Path = ()) -> tuple[Any, list[PackFault]]:
    """The validated model, or None and every fault."""
    try:
        return model.model_validate(raw), []
    except ValidationError as error:
        return None, _faults(error, model, place, prefix)


def judge_what_can_be(model: type[M], raw: object, place: Place) -> tuple[M | None, frozenset[str], list[PackFault]]:
    """The model; or, where keys are bad or missing, what can be had without them: the rest is judged too.

    Those keys are named beside it; in the model they hold their default, or None where there is none.
    """
    try:
        return model.model_validate(raw), frozenset(), []
    except ValidationError as error:
        found = _faults(error, model, place, ())
        bad = frozenset(str(detail["loc"][0]) for detail in error.errors(include_url=False) if detail["loc"])
    if not isinstance(raw, dict):
        return None, bad, found
    rest = {key: value for key, value in raw.items() if key not in bad}
    return _loose(model).model_validate(rest), bad, found  # type: ignore[return-value]


@cache
def _loose(model: type[BaseModel]) -> type[BaseModel]:
    """The model with None allowed wherever it asks for a value."""
    wanted: dict[str, Any] = {
        name: (info.annotation | None, None)  # type: ignore[operator]
        for name, info in model.model_fields.items()
        if info.is_required()
    }
    return create_model(f"Loose{model.__name__}", __base__=model, **wanted)


def _faults(error: ValidationError, model: type[BaseModel], place: Place, prefix: Path) -> list[PackFault]:
    details = [(tuple(detail["loc"]), detail) for detail in error.errors(include_url=False)]
    missing = {loc for loc, detail in details if detail["type"] == "missing"}
    found: list[PackFault] = []
    for loc, detail in details:
        if detail["type"] == "extra_forbidden":
            absent = [str(m[-1]) for m in missing if m[:-1] == loc[:-1]]
            meant = near(str(loc[-1]), absent)
            if meant:
                missing.discard((*loc[:-1], meant[0]))
            allowed = _keys(model, loc[:-1])
            found.append(
                place.fault(
                    "key",
                    (*prefix, *loc),
                    near=meant or near(str(loc[-1]), allowed),
                    allowed=", ".join(sorted(allowed)),
                    key=loc[-1],
                )
            )
    for loc, detail in details:
        kind = detail["type"]
        if kind == "extra_forbidden" or (kind == "missing" and loc not in missing):
            continue
        found.append(_one(kind, loc, detail, place, prefix))
    return found


def _one(kind: str, loc: Path, detail: Mapping[str, Any], place: Place, prefix: Path) -> PackFault:
    where = (*prefix, *loc)
    value, context = detail.get("input"), detail.get("ctx") or {}
    if kind == "missing":
        return place.fault("missing", where, key=loc[-1])
    if kind == "literal_error":
        allowed = str(context["expected"]).split("'")[1::2]  # pydantic writes "'a', 'b' or 'c'"
        meant = near(value, allowed)
        return place.fault("choice", where, near=meant, allowed=", ".join(allowed), value=shown(value))
    if kind == "string_pattern_mismatch":
        code = "language" if "[a-z]{2}" in str(context.get("pattern")) else "id"
        return place.fault(code, where, value=shown(value))
    if kind in _RANGES:
        name, limit = _RANGES[kind]
        count = len(value) if isinstance(value, (str, list, dict)) else shown(value)
        what = say(f"lessons.range.{name}", limit=context[limit])
        return place.fault("range", where, what=what, value=count)
    what = say(f"lessons.type.{_TYPES.get(kind, 'other')}")
    return place.fault("type", where, what=what, value=shown(value))


def _keys(model: type[BaseModel], path: Path) -> list[str]:
    """The keys allowed in the table at `path`."""
    here: object = model
    for key in path:
        inner = _models(here)
        if isinstance(here, type) and issubclass(here, BaseModel):
            fields = {(info.alias or name): info.annotation for name, info in here.model_fields.items()}
            here = fields.get(str(key))
        elif inner:
            here = inner[0]
    found = _models(here)
    return [info.alias or name for name, info in found[0].model_fields.items()] if found else []


def _models(annotation: object) -> list[type[BaseModel]]:
    """The models inside an annotation such as `list[Model]`, `dict[str, Model]` or `Model | None`."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for inner in get_args(annotation) for model in _models(inner)]
