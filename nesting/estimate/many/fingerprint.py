"""A short text that is the same for two things exactly when nothing in them differs.

It names kept results: SHA-256 (FIPS 180-4) over everything a result depends on, the program itself included.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from importlib import metadata
from pathlib import Path

import numpy as np

import nesting

__all__ = ["fingerprint", "program_mark"]

_LIBRARIES = ("numba", "numpy", "pyclipper", "shapely")
"""Libraries whose arithmetic a lay depends on."""

_NO_PART = ("drawing", "files", "words")
"""Packages that come after a lay, or before it: what they read is in the job."""


def fingerprint(*things: object) -> str:
    """Hexadecimal digits for numbers, texts, arrays, enums, dataclasses, and rows and tables of them.

    Mappings are taken in their order, for that of the cloths and pieces may matter.

    Raises
    ------
    TypeError
        For anything else: what cannot be told apart must not be taken for equal.

    Examples
    --------
    >>> fingerprint(1.0, "a") == fingerprint(1.0, "a"), fingerprint(1) == fingerprint(1.0)
    (True, False)
    """
    digest = hashlib.sha256()
    for part in _parts(things):
        digest.update(len(part).to_bytes(8, "little"))
        digest.update(part)
    return digest.hexdigest()


@cache
def program_mark() -> str:
    """A fingerprint of the program: the text of what lays and estimates, and the versions of its libraries.

    Its text and not its version alone, so that what a changed program works out is never mixed with
    what it worked out before.
    """
    root = Path(nesting.__file__).parent
    paths = [path.relative_to(root) for path in sorted(root.rglob("*.py"))]
    texts = {
        path.as_posix(): (root / path).read_text("utf-8") for path in paths if path.parts[0] not in _NO_PART
    }
    return fingerprint(texts, {name: metadata.version(name) for name in _LIBRARIES})


def _parts(value: object) -> Iterator[bytes]:
    """Bytes that spell the value, each kind of thing marked as what it is."""
    if isinstance(value, Enum):
        yield f"{type(value).__name__}.{value.name}".encode()
    elif value is None or isinstance(value, bool | int | float | str):
        yield f"{type(value).__name__} {value!r}".encode("utf-8", "surrogatepass")
    elif isinstance(value, np.ndarray):
        yield f"array {value.dtype.str} {value.shape}".encode()
        yield np.ascontiguousarray(value).tobytes()
    elif isinstance(value, tuple | list):
        yield f"row of {len(value)}".encode()
        for one in value:
            yield from _parts(one)
    elif isinstance(value, Mapping):
        yield f"table of {len(value)}".encode()
        for key, one in value.items():
            yield from _parts(key)
            yield from _parts(one)
    elif is_dataclass(value) and not isinstance(value, type):
        yield type(value).__name__.encode()
        for field in fields(value):
            yield field.name.encode()
            yield from _parts(getattr(value, field.name))
    else:
        raise TypeError(f"{type(value).__name__} has no fingerprint")
