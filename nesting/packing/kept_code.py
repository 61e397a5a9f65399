"""Compiled code kept on disk between runs: where, by which name, and that it is whole before it is used.

Numba would keep it too, but takes what it finds for granted: a damaged file would end every run from then
on. Here each file begins with a checksum of the rest (SHA-256, FIPS 180-4), and one that does not hold is
told once and compiled anew. The rest is a pickle, which runs whatever stands in it when it is read; so code
is kept only where nobody but the person and the system may write, and read only from files of which the
same is true.
"""

from __future__ import annotations

import hashlib
import inspect
import logging
import os
import pickle
import secrets
import stat
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from multiprocessing import current_process
from pathlib import Path
from typing import Any

import numba
from numba.core import compiler, serialize
from platformdirs import user_cache_path

__all__ = ["KeptCode", "folder_for", "nobody_else_writes", "say_once"]

_numba: Any = numba  # what is used of these has no types
_compiler: Any = compiler
_serialize: Any = serialize
_log = logging.getLogger(__name__)
_said: set[str] = set()
_CHECKSUM = hashlib.sha256().digest_size
_DAMAGED = "compiled code that was kept on disk is damaged; it is compiled anew"
_SYSTEM = frozenset({0, 65534})
"""Who may own a folder further up: root, and whom a container shows for owners that it does not know."""
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
_MINE_TO_WRITE = 0o644
"""Whatever the person lets others do with new files: these are run."""
_ABANDONED_S = 3600.0
"""A file that is still not in its place after so long was left by a process that was killed."""


def say_once(words: str) -> None:
    """Log something the first time, by the process that starts the others."""
    if words not in _said and current_process().name == "MainProcess":  # set before a worker loads modules
        _said.add(words)
        _log.warning(words)


def folder_for(function: Callable[..., object]) -> Path | None:
    """Where a function's code is kept; None where it can't be.

    The first of these that nobody else can write to: the folder that ``NUMBA_CACHE_DIR`` names, the one
    beside its module where Python keeps its own, and the person's own cache folder.
    """
    file = Path(inspect.getfile(function))
    return _folder_beside(file.absolute().parent) if file.is_file() else None


@cache
def _folder_beside(modules: Path) -> Path | None:
    own = f"{modules.name}-{hashlib.sha256(str(modules).encode()).hexdigest()[:16]}"
    asked = [Path(_numba.config.CACHE_DIR) / own] if _numba.config.CACHE_DIR else []
    usual = user_cache_path("ellwand", appauthor=False) / "code" / own
    for folder in (*asked, modules / "__pycache__", usual):
        with suppress(OSError):
            folder.mkdir(mode=0o755, parents=True, exist_ok=True)
            if os.access(folder, os.W_OK | os.X_OK) and nobody_else_writes(folder):
                return folder
    return None


def nobody_else_writes(folder: Path) -> bool:
    """Whether a folder is the person's own, and neither it nor one above it may be changed by others.

    A folder above may be open to all where each may only remove what is his own (``/tmp``). Where a system
    does not tell, it is taken to be so.
    """
    if not hasattr(os, "geteuid"):
        return True
    me = os.geteuid()
    folder = folder.resolve()
    for one in (folder, *folder.parents):
        state = one.stat()
        owned = state.st_uid == me or (one != folder and state.st_uid in _SYSTEM)
        kept_apart = one != folder and state.st_mode & stat.S_ISVTX
        if not owned or (_is_shared(state, me) and not kept_apart):
            return False
    return True


def _is_shared(state: os.stat_result, me: int) -> bool:
    """Whether others than its owner, or a group of this one person, may write it."""
    others = stat.S_IWOTH | (0 if _is_private(state.st_gid, me) else stat.S_IWGRP)
    return bool(state.st_mode & others)


def _is_private(group: int, user: int) -> bool:
    """Whether a group has this one person only: many systems give everyone such a group."""
    import grp
    import pwd

    try:
        person, members = pwd.getpwuid(user), grp.getgrgid(group)
    except KeyError:
        return False
    alone = set(members.gr_mem) <= {person.pw_name}
    return alone and person.pw_gid == group and members.gr_name == person.pw_name


def _is_mine(state: os.stat_result) -> bool:
    """Whether a file is the person's own, and no one else may write it."""
    if not hasattr(os, "geteuid"):
        return True
    me = os.geteuid()
    return state.st_uid == me and not _is_shared(state, me)


class KeptCode:
    """The code of one function, a file for each signature; numba asks it before it compiles.

    Parameters
    ----------
    function : callable
    folder : Path
        Its own folder, from `folder_for`.
    stamp : object
        Whatever its code depends on besides its own file: code with another stamp is not used.
    """

    def __init__(self, function: Callable[..., object], folder: Path, stamp: object) -> None:
        file = Path(inspect.getfile(function))
        versions = (numba.__version__, sys.version)
        self._folder = folder
        self._stamp = _short((stamp, file.read_bytes(), versions))
        self._line = function.__code__.co_firstlineno
        self._name = f"{file.stem}.{function.__qualname__}.{sys.implementation.cache_tag}"

    @property
    def cache_path(self) -> str:
        """The folder, as numba asks for it."""
        return str(self._folder)

    def is_kept(self) -> bool:
        """Whether there is code for any signature, whole and up to date."""
        files = list(self._folder.glob(f"{self._name}-{self._stamp}-*.code"))
        return bool(files) and all([_read(file) is not None for file in files])

    def load_overload(self, signature: object, context: Any) -> object:
        """The compiled function for a signature, or None."""
        context.refresh()
        data = _read(self._path(signature, context))
        if data is None:
            return None
        try:
            return _compiler.CompileResult._rebuild(context, *pickle.loads(data))
        except Exception:  # whatever is wrong with it, it can be compiled anew
            say_once(_DAMAGED)
            return None

    def save_overload(self, signature: object, compiled: Any) -> None:
        """Keep a compiled function; where that cannot be, the next run compiles it again."""
        if compiled.library.has_dynamic_globals or compiled.lifted:
            return
        data = _serialize.dumps(compiled._reduce())
        path = self._path(signature, compiled.target_context)
        unfinished = path.with_suffix(f".{secrets.token_hex(8)}.tmp")
        try:
            with suppress(OSError):
                self._sweep()
                with os.fdopen(os.open(unfinished, _NEW, _MINE_TO_WRITE), "wb") as file:
                    file.write(hashlib.sha256(data).digest() + data)
                os.replace(unfinished, path)
        finally:
            with suppress(OSError):  # in its place already
                unfinished.unlink()

    def enable(self) -> None:
        """It always is."""

    def disable(self) -> None:
        """It never is."""

    def flush(self) -> None:
        """Throw away what is kept."""
        for file in self._folder.glob(f"{self._name}-*"):
            file.unlink(missing_ok=True)

    def _path(self, signature: object, context: Any) -> Path:
        machine = context.codegen().magic_tuple()
        return self._folder / f"{self._name}-{self._stamp}-{_short((signature, machine, self._line))}.code"

    def _sweep(self) -> None:
        """Remove what is out of date, and what a killed process left half written."""
        for file in self._folder.glob(f"{self._name}-*"):
            old = not file.name.startswith(f"{self._name}-{self._stamp}-")
            if old or (file.suffix == ".tmp" and time.time() - file.stat().st_mtime > _ABANDONED_S):
                file.unlink(missing_ok=True)


def _short(things: object) -> str:
    return hashlib.sha256(repr(things).encode()).hexdigest()[:16]


def _read(file: Path) -> bytes | None:
    """What was kept, if all is there and nobody else may have written it; what is damaged is removed."""
    try:
        with file.open("rb") as opened:
            if not _is_mine(os.fstat(opened.fileno())):
                return None  # it is compiled, and kept anew in its place
            kept = opened.read()
    except OSError:  # not there, or not ours to read
        return None
    data = kept[_CHECKSUM:]
    if hashlib.sha256(data).digest() == kept[:_CHECKSUM]:
        return data
    say_once(_DAMAGED)
    with suppress(OSError):
        file.unlink()
    return None
