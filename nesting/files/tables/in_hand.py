"""What may be written of a cloth in hand, and of small things wanted from what a lay leaves over."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from nesting.cloth.remnant import KEEP_OFF_MM
from nesting.cloth.waste import Lie
from nesting.files.tables import ranges
from nesting.files.tables.values import Key, Name, Point, Span, Text, length, one_of, whole

__all__ = ["BlockedTable", "FlawTable", "Length", "RemnantTable", "WasteTable"]

Length = Annotated[float, length(ranges.IN_HAND)]
"""Of a cloth in hand."""
Width = Annotated[float, length(ranges.REMNANT_WIDTH)]
KeepOff = Annotated[float, length(ranges.KEEP_OFF)]
"""From a flaw to the nearest cutting line."""
Diameter = Annotated[float, length(ranges.DIAMETER)]


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class BlockedTable(_Table):
    """One of ``cut_away``."""

    name: Text = Field(default="", examples=['name = "moth hole"'])
    along: Span | None = Field(default=None, examples=["along = [62, 66]"])
    across: Span | None = Field(default=None, examples=["across = [30, 34]"])
    outline: list[Point] | None = Field(
        default=None, examples=["outline = [[180, 150], [210, 110], [210, 150]]"]
    )


class FlawTable(BlockedTable):
    """One of ``flaws``."""

    keep_off: KeepOff = Field(default=KEEP_OFF_MM, examples=['keep_off = "1 cm"'])


class RemnantTable(_Table):
    """``[[cloth.<key>.remnant]]``."""

    name: Key = Field(examples=['name = "long piece"'])
    length: Length = Field(examples=["length = 140"])
    width: Width | None = Field(default=None, examples=["width = 70"])
    flaws: list[FlawTable] = Field(default=[], examples=["flaws = [ { along = [62, 66] } ]"])
    cut_away: list[BlockedTable] = Field(
        default=[], examples=["cut_away = [ { along = [0, 40], across = [0, 30] } ]"]
    )


class WasteTable(_Table):
    """``[[from_waste]]``."""

    name: Name = Field(examples=['name = "covered buttons"'])
    cloth: Name = Field(examples=['cloth = "main"'])
    size: Point | None = Field(default=None, examples=["size = [18, 22]"])
    round: Diameter | None = Field(default=None, examples=["round = 4.5"])
    count: Annotated[int, whole(ranges.COPIES, "a number of pieces")] = Field(
        default=1, examples=["count = 8"]
    )
    lie: Annotated[Lie, one_of(Lie)] = Field(default=Lie.ALONG, examples=['lie = "bias"'])
