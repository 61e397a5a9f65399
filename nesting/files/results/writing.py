"""Files written so that nothing is ever half there, and nothing of the person's is lost.

New content first goes, whole, into a file of another name in the same folder and is forced to disk;
then it takes the place of the old one in a single step (POSIX ``rename``; Python's `os.replace`).
A set of files is written as a set or not at all. Meanwhile the folder is locked (``flock``, on the folder
itself, so that no file is needed for it): a second run waits, and keeps aside what the first wrote.
"""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import time
from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path

from nesting.errors import EllwandError

__all__ = ["NotWritten", "require_writable", "write_atomically", "write_together"]

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
WAIT_S = 30.0
"""How long a run waits for another that writes into the same folder."""
_LOOK_EVERY_S = 0.02
_UNFINISHED = ".ellwand-{}.tmp"
"""A file that is not in its place yet. One in a folder that no run is writing to was left by a kill."""

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
    with _one_at_a_time(path.parent):
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
    names = tuple(names)
    for name in (*folder.parts, *names):
        if len(os.fsencode(name)) > LONGEST_NAME:
            raise NotWritten(f"{_short(name)}: the name is too long for a file. Choose a shorter one.")
    try:
        _require_standing(folder, names)
    except OSError as error:  # one above it may not be looked into, or the whole path is too long
        raise _not_written(folder, error) from error


def _require_standing(folder: Path, names: Iterable[str]) -> None:
    """What stands there already is not in the way; `OSError` where that cannot be looked at."""
    with contextlib.suppress(FileNotFoundError, NotADirectoryError):
        folder.lstat()  # `exists` takes what cannot be looked at for missing, from Python 3.14 on
    for one in (folder, *folder.absolute().parents):
        if one.is_symlink() and not one.exists():
            raise NotWritten(f"{one} is a link that leads nowhere. Mend the link, or choose another folder.")
    standing = next((one for one in (folder, *folder.absolute().parents) if one.exists()), folder)
    if not standing.is_dir():
        raise NotWritten(f"{standing} is a file, not a folder. Choose another folder.")
    if not os.access(standing, os.W_OK | os.X_OK):
        raise NotWritten(
            f"{folder}: nothing may be written there. Choose a folder of your own, with --to FOLDER."
        )
    _require_no_folders(folder / name for name in names)


def write_together(files: Mapping[Path, bytes], others: Iterable[Path] = ()) -> tuple[Path, ...]:
    """Write a set of files, all or none; what they would overwrite is kept under a number of its own.

    ``jacket.pdf`` is kept as ``jacket-earlier-1.pdf``; the files of one set get the same number. One that
    would not change is not kept twice. Folders that are missing are made.

    Parameters
    ----------
    files : mapping of Path to bytes
    others : iterable of Path
        Names of the set that are not written this time. Where anything of the set changes, what stands there
        belongs to an earlier one, and is kept under its number too: nobody shall cut by it.

    Returns
    -------
    tuple of Path
        What was kept; empty when nothing was overwritten with something else.

    Raises
    ------
    NotWritten
        With the reason and what to do; all is as it was before.
    """
    folders = sorted({path.parent for path in files})
    for folder in folders:
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except FileExistsError:
            raise NotWritten(f"{folder} is a file, not a folder. Choose another folder.") from None
        except OSError as error:
            raise _not_written(folder, error) from error
    with contextlib.ExitStack() as locked:
        for folder in folders:
            locked.enter_context(_one_at_a_time(folder))
        _require_no_folders(files)
        before = _changing(files)
        old = [path for path in others if before and path not in files and path.is_file()]
        kept = _kept_as([*before, *old], files)
        _replace_all({**{kept[path]: data for path, data in before.items()}, **files}, kept)
        for path in old:
            with contextlib.suppress(OSError):  # the new set is in its place, which counts for more
                os.replace(path, kept[path])
    return tuple(kept.values())


def _changing(files: Mapping[Path, bytes]) -> dict[Path, bytes]:
    """What stands in the files that would change."""
    before = {}
    for path, data in files.items():
        try:
            held = path.read_bytes() if path.is_file() else data
        except OSError as error:
            raise NotWritten(
                f"{path} was not written: what stands there now cannot be read ({error.strerror or error}), "
                "so it cannot be kept. Move it away, or choose another folder with --to FOLDER."
            ) from error
        if held != data:
            before[path] = held
    return before


def _kept_as(before: Collection[Path], files: Collection[Path]) -> dict[Path, Path]:
    """Under which names those files are kept: all with the first number that is free for every one."""
    number = 1
    while any(_earlier(path, number) in files or _earlier(path, number).exists() for path in before):
        number += 1
    return {path: _earlier(path, number) for path in before}


def _earlier(path: Path, number: int) -> Path:
    return path.with_name(f"{path.stem}-earlier-{number}{path.suffix}")


def _require_no_folders(paths: Iterable[Path]) -> None:
    for path in paths:
        if path.is_dir():
            raise NotWritten(
                f"{path} was not written: there is a folder of that name. Nothing of this set was written. "
                "Move the folder away, or choose another with --to FOLDER."
            )


def _replace_all(files: Mapping[Path, bytes], kept: Mapping[Path, Path] | None = None) -> None:
    """Put every file into its place, in their order; when one fails, take back those before it.

    Parameters
    ----------
    files : mapping of Path to bytes
    kept : mapping of Path to Path, optional
        Which of them hold what others held before.
    """
    waiting: dict[Path, Path] = {}
    new = {path for path in files if not path.exists()}
    placed: list[Path] = []
    path = Path()
    try:
        for path, data in files.items():
            waiting[path] = path.with_name(_UNFINISHED.format(secrets.token_hex(8)))
            with waiting[path].open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        for path in files:
            os.replace(waiting[path], path)
            placed.append(path)
    except OSError as error:
        _take_back(placed, new, kept or {})
        raise _not_written(path, error) from error
    finally:
        for leftover in waiting.values():
            with contextlib.suppress(OSError):  # in place already, or never made
                leftover.unlink()


def _take_back(placed: Iterable[Path], new: set[Path], kept: Mapping[Path, Path]) -> None:
    """As far as the disk allows: what was kept goes back, what is new goes."""
    for path in reversed(list(placed)):
        with contextlib.suppress(OSError):
            if path in kept:
                os.replace(kept[path], path)
            elif path in new:
                path.unlink()


@contextlib.contextmanager
def _one_at_a_time(folder: Path) -> Iterator[None]:
    """Hold a folder for writing, and clear away what a killed run left half written there.

    Where folders cannot be locked (some that lie on other machines) it goes on without.

    Raises
    ------
    NotWritten
        When another run holds it for too long.
    """
    try:
        held = os.open(folder, os.O_RDONLY)
    except OSError:  # whether anything can be written there, the writing itself will tell
        yield
        return
    try:
        if _lock(held, folder):
            for unfinished in folder.glob(_UNFINISHED.format("*")):
                with contextlib.suppress(OSError):
                    unfinished.unlink()
        yield
    finally:
        os.close(held)  # which ends the lock


def _lock(held: int, folder: Path) -> bool:
    """Lock an open folder, once no other run holds it; whether it can be locked at all."""
    try:
        import fcntl
    except ImportError:  # not on every system
        return False
    until = time.monotonic() + WAIT_S
    while True:
        try:
            fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() > until:
                raise NotWritten(
                    f"{folder}: another run is writing there and does not come to an end. "
                    "End it, or choose another folder."
                ) from None
            time.sleep(_LOOK_EVERY_S)
        except OSError:
            return False
        else:
            return True


def _short(name: str) -> str:
    return name if len(name) <= _SHOWN else f"{name[:_SHOWN]}…"


def _not_written(path: Path, error: OSError) -> NotWritten:
    reason, remedy = _WHAT_TO_DO.get(error.errno or 0, _NOT_ALLOWED)
    if isinstance(error, PermissionError) or error.errno in _WHAT_TO_DO:
        return NotWritten(f"{path} was not written: {reason}. {remedy}")
    return NotWritten(f"{path} was not written: {error.strerror or error}. Try another folder.")
