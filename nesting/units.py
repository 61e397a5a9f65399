"""Stub until the real module lands."""

from enum import StrEnum


class Unit(StrEnum):
    """What the person measures in."""

    MM = "mm"
    CM = "cm"
    IN = "in"
