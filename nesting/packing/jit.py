"""The one place where numba's untyped decorator meets our typed code."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

from nesting.packing.kept_code import KeptCode, folder_for, say_once

__all__ = [
    "compile_for",
    "entry_kernel",
    "inner_kernel",
    "is_kept",
    "is_loaded",
    "kept_in",
    "kernel",
    "plain",
]

_OPTIONS: Any = {"nogil": True, "error_model": "numpy", "_nrt": False, "no_cfunc_wrapper": True}
F = TypeVar("F", bound=Callable[..., object])


def _stamp_of(folder: Path) -> tuple[tuple[str, int, int], ...]:
    """What tells one state of all modules in a folder and those below it from another."""
    modules = sorted(folder.rglob("*.py"))
    return tuple((str(module), module.stat().st_mtime_ns, module.stat().st_size) for module in modules)


_STAMP = _stamp_of(Path(__file__).parent)


def entry_kernel(function: F) -> F:
    """Compile for flat arrays, without the interpreter lock, kept on disk between runs where that is allowed.

    The only kind that may be called from Python; the others are called by kernels. None has a way in from C.

    No ``fastmath``: the same input gives the same last digit on every run. The plain Python twin stays
    reachable as ``.py_func``; it runs only if it calls no kernel that is not an entry. Where nothing can be
    kept, that is logged once, by the process that starts the others.

    Kernels allocate nothing and return no arrays, so numba's reference counting is switched off (``_nrt``):
    counting up and down for every array of every call took six tenths of the time, and more between threads.
    Code that was kept is used only while no module of the engine has changed since, for a kernel holds copies
    of those it calls.
    """
    return _compiled(function, _OPTIONS)


def kernel(function: F) -> F:
    """As `entry_kernel`, but called by other kernels only: **called from Python, it would end the process**.

    Without a way in from Python, which unpacks every array of the tables, a third of the time to compile the
    search is saved.
    """
    return _compiled(function, {**_OPTIONS, "no_cpython_wrapper": True})


def inner_kernel(function: F) -> F:
    """As `kernel`, for small ones called in innermost loops: their code is copied into the caller's.

    A call hands over the tables array by array, field by field, more than a hundred numbers: copied in, the
    search took a tenth to two fifths less time on four instances of five, and up to a fifth more to compile.
    """
    return _compiled(function, {**_OPTIONS, "no_cpython_wrapper": True, "forceinline": True})


def plain(function: F) -> F:
    """The Python twin of a kernel that calls no others, for Python to call."""
    return cast(F, cast(Any, function).py_func)


def compile_for(function: Callable[..., object], *arguments: object) -> None:
    """Compile any kernel for arguments such as these, without calling it."""
    typeof: Any = numba.typeof
    cast(Any, function).compile(tuple(typeof(argument) for argument in arguments))


def is_loaded(function: Callable[..., object]) -> bool:
    """Whether a kernel is compiled in this process already."""
    return bool(cast(Any, function).nopython_signatures)


def kept_in(function: Callable[..., object]) -> Path | None:
    """The directory where a kernel's compiled code is kept; None where it can't be."""
    path = cast(Any, function).stats.cache_path
    return Path(path) if path else None


def is_kept(function: Callable[..., object]) -> bool:
    """Whether compiled code of a kernel lies on disk, whole and up to date."""
    kept = getattr(function, "_cache", None)
    return isinstance(kept, KeptCode) and kept.is_kept()


def _compiled(function: F, options: dict[str, Any]) -> F:
    compiled = numba.njit(**options)(function)
    folder = folder_for(function)
    if folder is None:
        say_once("compiled code can't be kept on disk here; it is compiled again on every start")
    else:
        compiled._cache = KeptCode(function, folder, _STAMP)
    return cast(F, compiled)
