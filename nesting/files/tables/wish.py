"""What may be written of a wish of where pieces lie."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

from nesting.files.tables import ranges
from nesting.files.tables.values import Name, Point, length

__all__ = ["WishTable"]

_Length = Annotated[float, length(ranges.WISH_LENGTH)]


class WishTable(BaseModel):
    """``[[wish]]``: one of three kinds."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    together: list[Name] | None = Field(default=None, examples=['together = ["front", "back"]'])
    within: _Length | None = Field(default=None, examples=["within = 70"])
    piece: Name | None = Field(default=None, examples=['piece = "front"'])
    from_end: _Length | None = Field(default=None, examples=["from_end = 20"])
    pin: Point | None = Field(default=None, examples=["pin = [60, 45]"])
    point: Name | None = Field(default=None, examples=['point = "motif"'])
    turned: bool = Field(default=False, examples=["turned = true"])
    cloth: Name | None = Field(default=None, examples=['cloth = "main"'])
