"""What may stand in a project file: one model for each kind of table, every length already in mm.

The models judge a table by itself. What ties tables together (a point that an edge names, a cloth
that a piece is cut from) is judged by the `*_building` modules beside this one. Validators raise
with our own words; the few faults that pydantic finds itself are told by `nesting.files.tables.checking`.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    model_validator,
)

from nesting.cloth.cloth import Nap, RightSide, Spread
from nesting.files.tables import ranges
from nesting.files.tables.in_hand import BlockedTable, FlawTable, Length, RemnantTable, WasteTable
from nesting.files.tables.strip import StripTable
from nesting.files.tables.values import (
    At,
    Counts,
    CountText,
    FoldEdge,
    Grain,
    Key,
    Name,
    Names,
    Point,
    Text,
    amount,
    degrees,
    length,
    no_more_than,
    one_of,
    per_cent,
    whole,
)
from nesting.files.tables.wish import WishTable
from nesting.pattern.draft import Curve
from nesting.pattern.match import Axis
from nesting.pattern.piece import Side, Turn
from nesting.units import Unit

__all__ = [
    "AlternativeTable",
    "ClothTable",
    "DartTable",
    "DefaultsTable",
    "Directions",
    "EdgeTable",
    "MarkTable",
    "MatchTable",
    "NotchTable",
    "OrderTable",
    "Outline",
    "PerLength",
    "PieceTable",
    "ProjectTable",
    "RepeatTable",
    "ShrinkageTable",
    "SizeTable",
]

Allowance = Annotated[float, length(ranges.ALLOWANCE)]


class Outline(StrEnum):
    """What the drawn outline is."""

    STITCHING = "stitching line"
    CUTTING = "cutting line"


class PerLength(StrEnum):
    """The length a price is for."""

    METRE = "m"
    YARD = "yd"


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class ShrinkageTable(_Table):
    """Per cent lost in the first wash."""

    along: Annotated[float, per_cent()] = Field(default=0.0, examples=["shrinkage = { along = 3 }"])
    across: Annotated[float, per_cent()] = Field(default=0.0, examples=["shrinkage = { across = 1 }"])


class Directions(StrEnum):
    """Along the cloth, across it, or both."""

    ALONG = "along"
    ACROSS = "across"
    BOTH = "both"

    @property
    def axes(self) -> tuple[Axis, ...]:
        """The directions one by one."""
        return tuple(Axis) if self is Directions.BOTH else (Axis(self.value),)


class RepeatTable(_Table):
    """How far a stripe or check goes before it begins anew."""

    along: Annotated[float, length(ranges.REPEAT_ALONG)] | None = Field(
        default=None, examples=["repeat = { along = 8 }"]
    )
    across: Annotated[float, length(ranges.REPEAT_ACROSS)] | None = Field(
        default=None, examples=["repeat = { across = 6 }"]
    )
    uneven: Annotated[Directions, one_of(Directions)] | None = Field(
        default=None, examples=['repeat = { across = 6, uneven = "across" }']
    )
    line: Annotated[float, length(ranges.LINE)] | None = Field(
        default=None, examples=["repeat = { across = 6, line = 2.5 }"]
    )


def _no_repeat(value: object) -> object:
    """An alternative writes ``repeat = false`` for the same cloth plain."""
    return None if value is False else value


class ClothTable(_Table):
    """``[cloth.<key>]``."""

    name: Name | None = Field(default=None, examples=['name = "grey wool flannel"'])
    width: Annotated[float, length(ranges.CLOTH_WIDTH)] = Field(examples=["width = 150"])
    selvedge: Annotated[float, length(ranges.SELVEDGE)] = Field(default=10.0, examples=["selvedge = 1"])
    nap: Annotated[Nap, one_of(Nap)] = Field(default=Nap.EITHER_WAY, examples=['nap = "one way"'])
    right_side: Annotated[RightSide, one_of(RightSide)] = Field(
        default=RightSide.ONE, examples=['right_side = "two-sided"']
    )
    spread: Annotated[Spread, one_of(Spread)] = Field(default=Spread.BEST, examples=['spread = "open"'])
    grain_tolerance: Annotated[float, degrees()] = Field(default=0.0, examples=["grain_tolerance = 2"])
    turn: Annotated[Turn, one_of(Turn)] = Field(default=Turn.HALF, examples=['turn = "half"'])
    step: Annotated[float, length(ranges.STEP)] | None = Field(default=None, examples=["step = 10"])
    price: Annotated[float, amount()] | None = Field(default=None, examples=["price = 28.50"])
    price_per: Annotated[PerLength, one_of(PerLength)] | None = Field(
        default=None, examples=['price_per = "m"']
    )
    shrinkage: ShrinkageTable = Field(
        default=ShrinkageTable(), examples=["shrinkage = { along = 3, across = 1 }"]
    )
    end_allowance: Annotated[float, length(ranges.END_ALLOWANCE)] = Field(
        default=20.0, examples=["end_allowance = 3"]
    )
    spare_at_least: Annotated[float, length(ranges.SPARE)] | None = Field(
        default=None, examples=["spare_at_least = 2"]
    )
    gap: Annotated[float, length(ranges.GAP)] = Field(default=0.0, examples=["gap = 0"])
    tube: bool = Field(default=False, examples=["tube = true"])
    repeat: Annotated[RepeatTable | None, BeforeValidator(_no_repeat)] = Field(
        default=None, examples=["repeat = { along = 8, across = 6 }"]
    )
    in_hand: Length | None = Field(default=None, examples=['in_hand = "2.1 m"'])
    flaws: list[FlawTable] = Field(
        default=[], examples=["flaws = [ { along = [62, 66], across = [30, 34] } ]"]
    )
    cut_away: list[BlockedTable] = Field(
        default=[], examples=["cut_away = [ { along = [0, 40], across = [0, 30] } ]"]
    )
    remnant: list[RemnantTable] = Field(default=[], examples=['remnant = [ { name = "long", length = 90 } ]'])
    part_pairs: bool = Field(default=False, examples=["part_pairs = true"])


class EdgeTable(_Table):
    """One entry of ``[piece.<name>.edges]``; plain text or a list alone is its `through`."""

    through: Names = Field(examples=['through = "A B"'])
    curve: Annotated[Curve, one_of(Curve)] = Field(default=Curve.STRAIGHT, examples=['curve = "smooth"'])
    allowance: Allowance | None = Field(default=None, examples=["allowance = 1"])

    @model_validator(mode="before")
    @classmethod
    def _from_points_alone(cls, value: object) -> object:
        return {"through": value} if isinstance(value, str | list) else value


class NotchTable(_Table):
    """``[[piece.<name>.notches]]``."""

    edge: Name | None = Field(default=None, examples=['edge = "armhole"'])
    from_start: Annotated[float, length(ranges.PLACE_ON_EDGE)] | None = Field(
        default=None, examples=["from_start = 9"]
    )
    from_end: Annotated[float, length(ranges.PLACE_ON_EDGE)] | None = Field(
        default=None, examples=["from_end = 9"]
    )
    at: At | None = Field(default=None, examples=['at = "N1"'])
    name: Text = Field(default="", examples=['name = "sleeve"'])


class DartTable(_Table):
    """One of ``darts``."""

    name: Text = Field(default="", examples=['name = "waist"'])
    legs: Names = Field(examples=['legs = "D1 D2"'])
    tip: Name = Field(examples=['tip = "T"'])


class MarkTable(_Table):
    """One of ``marks``."""

    name: Text = Field(default="", examples=['name = "pocket place"'])
    through: Names = Field(examples=['through = "P1 P2"'])


class MatchTable(_Table):
    """``[[match]]``."""

    name: Text = Field(default="", examples=['name = "side seams"'])
    points: dict[Name, Name] = Field(examples=['points = { front = "side waist", back = "side waist" }'])
    repeat: Annotated[Directions, one_of(Directions)] | None = Field(
        default=None, examples=['repeat = "along"']
    )
    on_line: bool = Field(default=False, examples=["on_line = true"])
    cloth: Name | None = Field(default=None, examples=['cloth = "main"'])


class PieceTable(_Table):
    """``[piece.<name>]``."""

    points: Annotated[dict[Name, Point], no_more_than(ranges.MOST_POINTS, "points")] = Field(
        examples=["points = { A = [0, 0], B = [0, 56.5] }"]
    )
    edges: Annotated[dict[Name, EdgeTable], no_more_than(ranges.MOST_EDGES, "edges")] = Field(
        examples=['edges = { hem = "A B" }']
    )
    grain: Grain = Field(default="up", examples=['grain = "up"'])
    on_fold: FoldEdge = Field(default=None, examples=['on_fold = "centre back"'])
    outline: Annotated[Outline, one_of(Outline)] = Field(
        default=Outline.STITCHING, examples=['outline = "cutting line"']
    )
    seam_allowance: Allowance | None = Field(default=None, examples=["seam_allowance = 1.5"])
    turn: Annotated[Turn, one_of(Turn)] | None = Field(default=None, examples=['turn = "quarter"'])
    grain_tolerance: Annotated[float, degrees()] | None = Field(
        default=None, examples=["grain_tolerance = 0"]
    )
    drawn: Annotated[Side, one_of(Side)] | None = Field(default=None, examples=['drawn = "right"'])
    large: bool = Field(default=False, examples=["large = true"])
    may_be_left_off: bool = Field(default=False, examples=["may_be_left_off = true"])
    cut: Annotated[dict[str, CountText], Counts] = Field(default={}, examples=["cut = { main = 2 }"])
    notches: Annotated[list[NotchTable], no_more_than(ranges.MOST_MARKS, "notches")] = Field(
        default=[], examples=['notches = [ { edge = "hem", from_start = 9 } ]']
    )
    darts: Annotated[list[DartTable], no_more_than(ranges.MOST_MARKS, "darts")] = Field(
        default=[], examples=['darts = [ { legs = "D1 D2", tip = "T" } ]']
    )
    marks: Annotated[list[MarkTable], no_more_than(ranges.MOST_MARKS, "marks")] = Field(
        default=[], examples=['marks = [ { through = "P1 P2" } ]']
    )


class DefaultsTable(_Table):
    """What holds for every piece, or every cloth to be bought, that says nothing else."""

    seam_allowance: Allowance = Field(default=10.0, examples=["seam_allowance = 1"])
    spare_at_least: Annotated[float, length(ranges.SPARE)] = Field(
        default=0.0, examples=["spare_at_least = 2"]
    )


class ProjectTable(DefaultsTable):
    """The whole file; cloths, pieces and alternatives are judged one by one afterwards."""

    title: Text = Field(default="", examples=['title = "Short lined jacket"'])
    units: Annotated[Unit, one_of(Unit)] = Field(examples=['units = "cm"'])
    currency: Text = Field(default="", examples=['currency = "€"'])
    cloth: dict[Key, object] = Field(default={}, examples=["[cloth.main]"])
    piece: dict[Name, object] = Field(default={}, examples=["[piece.back]"])
    wish: list[WishTable] = Field(default=[], examples=["[[wish]]"])
    strip: list[StripTable] = Field(default=[], examples=["[[strip]]"])
    match: list[MatchTable] = Field(default=[], examples=["[[match]]"])
    alternative: dict[Name, object] = Field(default={}, examples=['[alternative."narrow cloth"]'])
    table_length: Annotated[float, length(ranges.TABLE_LENGTH)] | None = Field(
        default=None, examples=['table_length = "3 m"']
    )
    order: object = Field(default=None, examples=["[order]"])
    base_size: Name | None = Field(default=None, examples=['base_size = "10"'])
    size: dict[Name, object] = Field(
        default={},
        examples=['[size."12"] above what that size changes, and base_size = "10" for what is drawn'],
    )
    from_waste: list[WasteTable] = Field(
        default=[], examples=["[[from_waste]] above each small thing wanted"]
    )


class OrderTable(_Table):
    """``[order]``."""

    sizes: dict[Name, Annotated[int, whole(ranges.GARMENTS, "how many garments")]] = Field(
        default={}, examples=['sizes = { "10" = 2, "12" = 1 }']
    )
    garments: Annotated[int, whole(ranges.GARMENTS, "how many garments")] | None = Field(
        default=None, examples=["garments = 3"]
    )


class SizeTable(_Table):
    """What a size may change: its pieces; the cloth is the same for all."""

    piece: dict[str, dict[str, object]] = Field(default={}, examples=["piece.back.points = { A = [0, -1] }"])


class AlternativeTable(_Table):
    """What an alternative may change."""

    cloth: dict[str, dict[str, object]] = Field(default={}, examples=["cloth.main.width = 115"])
    piece: dict[str, dict[str, object]] = Field(default={}, examples=["piece.back.on_fold = false"])
    seam_allowance: Allowance | None = Field(default=None, examples=["seam_allowance = 1"])
