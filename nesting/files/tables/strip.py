"""What may be written of a strip."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from nesting.files.tables import ranges
from nesting.files.tables.values import Name, length, one_of
from nesting.pattern.strips import Join, StripGrain

__all__ = ["StripTable"]

_Width = Annotated[float, length(ranges.STRIP_WIDTH)]
_Total = Annotated[float, length(ranges.STRIP_LENGTH)]
_Longest = Annotated[float, length(ranges.LONGEST_STRIP)]
_Seam = Annotated[float, length(ranges.SEAM_OF_STRIP)]


class StripTable(BaseModel):
    """``[[strip]]``."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    name: Name = Field(examples=['name = "neck binding"'])
    cloth: Name = Field(examples=['cloth = "main"'])
    width: _Width = Field(examples=["width = 4"])
    length: _Total = Field(examples=['length = "3.5 m"'])
    grain: Annotated[StripGrain, one_of(StripGrain)] = Field(
        default=StripGrain.BIAS, examples=['grain = "bias"']
    )
    join: Annotated[Join, one_of(Join)] = Field(default=Join.DIAGONAL, examples=['join = "diagonal"'])
    seam: _Seam = Field(default=6.0, examples=["seam = 0.6"])
    longest: _Longest | None = Field(default=None, examples=["longest = 90"])
