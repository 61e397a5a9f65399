"""Results kept between runs, one small file each, in the folder that the system has for such things.

Deleting the folder costs nothing but time. A file is written whole under another name and moved into place,
so two runs may share the folder; one that is damaged is passed over and replaced.
"""

from __future__ import annotations

import json
from dataclasses import astuple, fields
from pathlib import Path

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Run
from nesting.errors import EllwandError
from nesting.estimate.figures import ClothFigures
from nesting.estimate.many.fingerprint import fingerprint
from nesting.estimate.on_remnant import OnRemnant
from nesting.files.results.writing import NotWritten, write_atomically
from nesting.packing.result import StopReason

__all__ = ["KeptResults", "usual_folder"]

FORMAT = "ellwand-kept 3"


def usual_folder() -> Path:
    """Where the system wants what a program may lose without harm (on Linux ``~/.cache/ellwand``)."""
    from platformdirs import user_cache_path

    return user_cache_path("ellwand", appauthor=False) / "lays"


class KeptResults:
    """Figures of cloths by the key of their job.

    Parameters
    ----------
    folder : Path, optional
        `usual_folder` if none is given; made when something is first kept.

    Attributes
    ----------
    trouble : str
        Why something could not be kept, the first time that happened; else empty.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or usual_folder()
        self.trouble = ""

    def get(self, key: str) -> ClothFigures | None:
        """What was kept under that key; None where there is nothing, or nothing sound."""
        try:
            entry = json.loads(self._path(key).read_bytes())
        except (OSError, ValueError):  # not there, not ours to read, not JSON, not UTF-8
            return None
        return _figures(entry, key)

    def put(self, key: str, figures: ClothFigures) -> None:
        """Keep a result; where nothing can be written the program goes on without."""
        values = _values(figures)
        entry = {"format": FORMAT, "key": key, "figures": values, "check": fingerprint(key, values)}
        path = self._path(key)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            write_atomically(path, (json.dumps(entry, allow_nan=False) + "\n").encode())
        except OSError as error:
            self.trouble = self.trouble or f"{path.parent}: {error.strerror or error}"
        except NotWritten as error:
            self.trouble = self.trouble or str(error)

    def _path(self, key: str) -> Path:
        if not key.isalnum():
            raise EllwandError(f"'{key}' is no key of a kept result")
        return self.folder / f"{key}.json"


def _figures(entry: object, key: str) -> ClothFigures | None:
    if not isinstance(entry, dict) or (entry.get("format"), entry.get("key")) != (FORMAT, key):
        return None
    values = entry.get("figures")
    names = {field.name for field in fields(ClothFigures)}
    if not isinstance(values, dict) or set(values) != names or entry.get("check") != fingerprint(key, values):
        return None
    read = {
        "runs": tuple(tuple(Run(Spread(spread), *rest) for spread, *rest in runs) for runs in values["runs"]),
        "stopped_because": StopReason(values["stopped_because"]),
        "in_hand": tuple(OnRemnant(*one) for one in values["in_hand"]),
    }
    return ClothFigures(**{**values, **read})


def _values(figures: ClothFigures) -> dict[str, object]:
    """The figures as JSON has them."""
    return {
        **{field.name: getattr(figures, field.name) for field in fields(figures)},
        "runs": [[[run.spread.value, run.lengths, run.cut_open] for run in runs] for runs in figures.runs],
        "stopped_because": figures.stopped_because.value,
        "in_hand": [list(astuple(one)) for one in figures.in_hand],
    }
