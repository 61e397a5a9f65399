"""Files written so that nothing is ever half there.

New content first goes, whole, into a file of another name in the same folder and is forced to disk;
then it takes the place of the old one in a single step (POSIX ``rename``; Python's `os.replace`).
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
from collections.abc import Iterable, Mapping
from pathlib import Path

from nesting.errors import EllwandError

__all__ = ["NotWritten", "keep_earlier", "require_writable", "write_atomically", "write_together"]

_WHAT_TO_DO = {
    errno.ENOSPC: ("the disk is full", "Make room on it, or choose a folder on another disk."),
    errno.EDQUOT: ("your share of the disk is used up", "Make room, or choose a folder on another disk."),
    errno.EFBIG: ("files of that size are not allowed there", "Choose a folder on another disk."),
    errno.EROFS: ("nothing can be written to this disk", "Choose a folder on another disk."),
    errno.ENOENT: ("there is no such folder", "Make the folder first, or choose another."),
    errno.ENOTDIR: ("part of its path is a file, not a folder", "Choose another folder."),
    errno.EISDIR: ("there is a folder of that name", "Choose another name."),
    errno.ENAMETOOLONG: ("its name is too long", "Choose a shorter name."),
}
LONGEST_NAME = 255
"""Bytes; what the usual file systems allow for one name."""
_SHOWN = 60

_NOT_ALLOWED = (
    "it may not be written there",
    "Close any program that has it open, or choose a folder of your own.",
)


class NotWritten(EllwandError):
    """A file could not be written; what was there before is as it was."""


def write_atomically(path: Path, data: bytes) -> None:
    """Write one file, whole or not at all.

    Raises
    ------
    NotWritten
        With the reason and what to do; a file that was there before is as it was.
    """
    _replace_all({path: data})


def require_writable(folder: Path, names: Iterable[str] = ()) -> None:
    """Say before long work, not after it, that nothing can be written to a folder; makes nothing.

    Parameters
    ----------
    folder : Path
        May be missing.
    names : iterable of str
        Of files that will be written there, as far as they are known.

    Raises
    ------
    NotWritten
        With the reason and what to do.
    """
    for name in (*folder.parts, *names):
        if len(os.fsencode(name)) > LONGEST_NAME:
            raise NotWritten(f"{_short(name)}: the name is too long for a file. Choose a shorter one.")
    standing = next((one for one in (folder, *folder.absolute().parents) if one.exists()), folder)
    if not standing.is_dir():
        raise NotWritten(f"{standing} is a file, not a folder. Choose another folder.")
    if not os.access(standing, os.W_OK | os.X_OK):
        raise NotWritten(
            f"{folder}: nothing may be written there. Choose a folder of your own, with --to FOLDER."
        )


def write_together(files: Mapping[Path, bytes]) -> None:
    """Write a set of files; the first takes its place only when all are ready on the disk.

    Folders that are missing are made.

    Raises
    ------
    NotWritten
        With the reason and what to do. Every file is either as it was or new, never half written.
    """
    for folder in dict.fromkeys(path.parent for path in files):
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except FileExistsError:
            raise NotWritten(f"{folder} is a file, not a folder. Choose another folder.") from None
        except OSError as error:
            raise _not_written(folder, error) from error
    _replace_all(files)


def keep_earlier(files: Mapping[Path, bytes]) -> tuple[Path, ...]:
    """Copy what would be overwritten with something else aside, under a number of its own.

    ``jacket.pdf`` is kept as ``jacket-earlier-1.pdf``; the files of one set get the same number.

    Returns
    -------
    tuple of Path
        The copies; empty when nothing would change.

    Raises
    ------
    NotWritten
        When a copy cannot be made.
    """
    changing = [path for path, data in files.items() if path.is_file() and path.read_bytes() != data]
    number = 1
    while any(_earlier(path, number).exists() for path in changing):
        number += 1
    _replace_all({_earlier(path, number): path.read_bytes() for path in changing})
    return tuple(_earlier(path, number) for path in changing)


def _earlier(path: Path, number: int) -> Path:
    return path.with_name(f"{path.stem}-earlier-{number}{path.suffix}")


def _replace_all(files: Mapping[Path, bytes]) -> None:
    waiting: dict[Path, Path] = {}
    path = Path()
    try:
        for path, data in files.items():
            waiting[path] = path.with_name(f".{secrets.token_hex(8)}.tmp")
            with waiting[path].open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        for path in files:
            os.replace(waiting[path], path)
    except OSError as error:
        raise _not_written(path, error) from error
    finally:
        for leftover in waiting.values():
            with contextlib.suppress(OSError):  # in place already, or never made
                leftover.unlink()


def _short(name: str) -> str:
    return name if len(name) <= _SHOWN else f"{name[:_SHOWN]}…"


def _not_written(path: Path, error: OSError) -> NotWritten:
    reason, remedy = _WHAT_TO_DO.get(error.errno or 0, _NOT_ALLOWED)
    if isinstance(error, PermissionError) or error.errno in _WHAT_TO_DO:
        return NotWritten(f"{path} was not written: {reason}. {remedy}")
    return NotWritten(f"{path} was not written: {error.strerror or error}. Try another folder.")
