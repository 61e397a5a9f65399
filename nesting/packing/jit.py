"""The one place where numba's untyped decorator meets our typed code."""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import TypeVar, cast

import numba

__all__ = ["kernel"]

_log = logging.getLogger(__name__)
_told = False
F = TypeVar("F", bound=Callable[..., object])


def kernel(function: F) -> F:
    """Compile for flat arrays, without the interpreter lock, kept on disk between runs where that is allowed.

    No ``fastmath``: the same input gives the same last digit on every run. The plain Python twin stays
    reachable as ``.py_func``.
    """
    global _told
    try:
        return cast(F, numba.njit(cache=True, nogil=True, error_model="numpy")(function))
    except RuntimeError:  # numba's word for "no directory to write the compiled code to"
        if not _told:
            _told = True
            _log.warning("compiled code can't be kept on disk here; it is compiled again on every start")
        return cast(F, numba.njit(nogil=True, error_model="numpy")(function))
