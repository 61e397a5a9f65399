"""How a bound treats what a problem asks for, field by field: each bound declares it in a table.

A bound stays one whatever it leaves out, as long as that can only make a lay longer. This has to be seen for
every rule that an item may have; a test fails where a bound does not say so of a field.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum

__all__ = ["Treated", "Treatment"]


class Treatment(Enum):
    """What becomes of a field in a bound."""

    OBEYED = "taken as it is"
    LOOSENED = "taken for less than it asks"
    IGNORED = "left out"


Treated = Mapping[str, tuple[Treatment, str]]
"""By field (``Item.edge``): what becomes of it, and why the bound is one all the same; no why if obeyed."""
