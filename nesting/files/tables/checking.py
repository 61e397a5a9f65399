"""Judge one table by its model, and tell every fault with its place in the person's words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from nesting.errors import Mistake
from nesting.files.tables.in_hand import BlockedTable, FlawTable, RemnantTable, WasteTable
from nesting.files.tables.schema import (
    ClothTable,
    DartTable,
    EdgeTable,
    MarkTable,
    MatchTable,
    NotchTable,
    PieceTable,
    ProjectTable,
    RepeatTable,
    ShrinkageTable,
)
from nesting.files.tables.strip import StripTable
from nesting.files.tables.wish import WishTable
from nesting.files.tables.wording import did_you_mean, kind_of, listed, quoted
from nesting.units import Unit

__all__ = ["checked"]

_M = TypeVar("_M", bound=BaseModel)

_THINGS = {
    "cloth": "cloth",
    "piece": "piece",
    "alternative": "alternative",
    "size": "size",
    "points": "point",
    "edges": "edge",
    "notches": "notch",
    "darts": "dart",
    "marks": "mark",
    "match": "match",
    "strip": "strip",
    "wish": "wish",
    "flaws": "flaw",
    "cut_away": "cut_away",
    "remnant": "remnant",
    "from_waste": "from_waste",
}
"""What one entry of a table or list is called."""

_NESTED: Mapping[str, type[BaseModel]] = {
    "edges": EdgeTable,
    "notches": NotchTable,
    "darts": DartTable,
    "marks": MarkTable,
    "shrinkage": ShrinkageTable,
    "repeat": RepeatTable,
    "match": MatchTable,
    "strip": StripTable,
    "wish": WishTable,
    "flaws": FlawTable,
    "cut_away": BlockedTable,
    "remnant": RemnantTable,
    "from_waste": WasteTable,
}
"""Tables within tables."""

_HEADING_HINT = "Put its name in square brackets on a line of its own, and what belongs to it below."

_IN_BRACES = "entries in braces, or below a heading of its own"
_SHOULD_BE = {
    "bool_type": "true or false, without quotation marks",
    "dict_type": _IN_BRACES,
    "list_type": "a list",
    "model_type": _IN_BRACES,
}


def checked(model: type[_M], table: object, where: str, unit: Unit | None) -> tuple[_M | None, list[Mistake]]:
    """The table as its model, or nothing and all that is wrong with it.

    Parameters
    ----------
    model : type
    table : object
        As it came from the file.
    where : str
        Place of the table, for the mistakes.
    unit : Unit or None
        What bare numbers are in; None while it is unknown, then sizes are not judged.
    """
    try:
        return model.model_validate(table, context={"unit": unit}), []
    except ValidationError as error:
        found = error.errors(include_url=False)
        return None, [_told(details, model, where) for details in found if not _misspelt(details, found)]


def _misspelt(details: ErrorDetails, found: list[ErrorDetails]) -> bool:
    """Whether this tells of an entry as missing that another tells of as misspelt."""
    if details["type"] != "missing":
        return False
    *table, name = details["loc"]
    return any(
        other["type"] == "extra_forbidden"
        and list(other["loc"][:-1]) == table
        and did_you_mean(str(other["loc"][-1]), [str(name)])
        for other in found
    )


def _told(error: ErrorDetails, model: type[BaseModel], where: str) -> Mistake:
    """One of pydantic's errors as a mistake of ours."""
    location = [step for step in error["loc"] if step != "[key]"]
    is_key = "[key]" in error["loc"]
    place, subject = _place(location, where)
    owner = _owner(location, model)
    field = owner.model_fields.get(str(location[-1])) if location else None
    kind = error["type"]
    if kind == "ellwand":
        context = error["ctx"]
        subject = "The name" if is_key else subject
        return Mistake(place, f"{subject} {context['what']}", str(context["remedy"]))
    example = f"Write for example: {field.examples[0]}" if field and field.examples else _HEADING_HINT
    if kind == "missing":
        return Mistake(place, f"{subject} is missing.", example)
    if kind == "extra_forbidden":
        known = list(owner.model_fields)
        name = str(location[-1])
        near = did_you_mean(name, known)
        remedy = near if owner is EdgeTable and near else _where_it_belongs(name, owner, model) or near
        remedy = remedy or f"What can stand here: {listed(known)}."
        return Mistake(place, f"There is no entry {subject} here.", remedy)
    if kind == "list_type" and isinstance(error["input"], dict):
        what = f"{subject} is written as if it were one, but there may be several: they are a list."
        return Mistake(place, what, f"Put its heading in double square brackets, [[ and ]]. {example}")
    if kind in ("model_type", "dict_type") and isinstance(error["input"], list) and not location:
        what = f"{subject} is a list, as a heading in double brackets makes one."
        return Mistake(place, what, "Put its heading in single square brackets.")
    wanted = _SHOULD_BE.get(kind, "something else")
    return Mistake(place, f"{subject} is {kind_of(error['input'])}, but should be {wanted}.", example)


def _where_it_belongs(name: str, owner: type[BaseModel], model: type[BaseModel]) -> str:
    """Where an entry that stands below the wrong heading should be, if it is one."""
    if owner is not model and name in model.model_fields:
        return (
            "It belongs to the piece itself: write it above the first heading that follows the piece's own, "
            "such as that of its edges."
        )
    if name in ProjectTable.model_fields and model in (ClothTable, PieceTable):
        return "It belongs at the top of the file, above the first heading."
    if model is ProjectTable and name in ClothTable.model_fields:
        return "It belongs to a cloth: write it below a heading such as [cloth.main]."
    if model is ProjectTable and name in PieceTable.model_fields:
        return "It belongs to a piece: write it below a heading such as [piece.back]."
    return ""


def _place(location: list[int | str], where: str) -> tuple[str, str]:
    """Where in the file, and what the sentence is about."""
    steps = list(location)
    subject = "It"
    while steps:
        step = steps.pop(0)
        thing = _THINGS.get(str(step))
        if thing and steps:
            entry = steps.pop(0)
            where += f", {thing} {entry + 1 if isinstance(entry, int) else quoted(entry)}"
        elif steps:
            where += f", {step}"
        else:
            subject = quoted(step)
    return where, subject


def _owner(location: list[int | str], model: type[BaseModel]) -> type[BaseModel]:
    """The model of the table that the last step of the location stands in."""
    owner, steps = model, list(location)
    while steps:
        step = str(steps[0])
        depth = 2 if step in _THINGS else 1
        if step not in _NESTED or len(steps) <= depth:
            break
        owner, steps = _NESTED[step], steps[depth:]
    return owner
