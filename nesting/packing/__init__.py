"""The nesting engine: polygons on a strip of given width, as short as can be. It knows nothing of cloth.

What needs numba or shapely is loaded when first asked for, so the problem's data types stay cheap to import.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from nesting.packing.problem import EdgeRule as EdgeRule
from nesting.packing.problem import Item as Item
from nesting.packing.problem import Lattice as Lattice
from nesting.packing.problem import Placement as Placement
from nesting.packing.problem import StripProblem as StripProblem
from nesting.packing.problem import Variant as Variant
from nesting.packing.result import Packing as Packing
from nesting.packing.result import Progress as Progress
from nesting.packing.stop import AnyOf as AnyOf
from nesting.packing.stop import BoundReached as BoundReached
from nesting.packing.stop import Evaluations as Evaluations
from nesting.packing.stop import LengthReached as LengthReached
from nesting.packing.stop import Seconds as Seconds
from nesting.packing.stop import StopRule as StopRule
from nesting.packing.stop import default_evaluations as default_evaluations

if TYPE_CHECKING:
    from nesting.packing.search import pack as pack
    from nesting.packing.verify import violations as violations

_LATE = {"pack": "nesting.packing.search", "violations": "nesting.packing.verify"}


def __getattr__(name: str) -> object:
    if name in _LATE:
        return getattr(import_module(_LATE[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
