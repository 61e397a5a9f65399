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

FORMAT = "ellwand-kept 4"
_MOST_BYTES = 1_000_000
"""An entry has a few thousand."""


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
    damaged : int
        How many results were kept, but are not sound any more.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self.folder = folder or usual_folder()
        self.trouble = ""
        self.damaged = 0

    def get(self, key: str) -> ClothFigures | None:
        """What was kept under that key; None where there is nothing, or nothing sound."""
        path = self._path(key)
        try:
            if not path.is_file():
                return None
            with path.open("rb") as file:
                text = file.read(_MOST_BYTES + 1)
        except OSError:  # not ours to read
            return None
        try:
            if len(text) > _MOST_BYTES:
                raise ValueError("too long for an entry")
            entry = json.loads(text)
            known = entry.get("format") if isinstance(entry, dict) else None
            if isinstance(known, str) and known != FORMAT:
                return None  # sound, but of another version of the program
            return _figures(entry, key)
        except (ValueError, RecursionError):  # not JSON, not UTF-8, brackets without end, not what was kept
            self.damaged += 1
            return None

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


def _figures(entry: object, key: str) -> ClothFigures:
    """The figures of an entry; `ValueError` where they are not what was kept under that key."""
    if not isinstance(entry, dict) or (entry.get("format"), entry.get("key")) != (FORMAT, key):
        raise ValueError("not an entry of that key")
    values = entry.get("figures")
    names = {field.name for field in fields(ClothFigures)}
    if not isinstance(values, dict) or set(values) != names or entry.get("check") != fingerprint(key, values):
        raise ValueError("not the figures that were kept")
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
