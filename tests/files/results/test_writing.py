import errno
import os
from pathlib import Path

import pytest

from nesting.files.results.writing import (
    NotWritten,
    keep_earlier,
    require_writable,
    write_atomically,
    write_together,
)


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_writes_and_replaces(tmp_path):
    file = tmp_path / "list.csv"
    write_atomically(file, b"one")
    write_atomically(file, b"two")
    assert file.read_bytes() == b"two"
    assert names(tmp_path) == ["list.csv"]


def test_a_folder_is_judged_by_what_stands_of_it_and_none_is_made(tmp_path, monkeypatch):
    folder = tmp_path / "new" / "sheets"
    require_writable(folder)
    assert names(tmp_path) == []
    asked = []
    monkeypatch.setattr(os, "access", lambda path, mode: asked.append(path))
    with pytest.raises(NotWritten, match="sheets: nothing may be written there"):
        require_writable(folder)
    assert asked == [tmp_path]


def test_a_file_where_a_folder_should_be_is_told(tmp_path):
    (tmp_path / "sheets").write_bytes(b"a file")
    with pytest.raises(NotWritten, match="sheets is a file, not a folder"):
        require_writable(tmp_path / "sheets" / "jacket")


@pytest.fixture
def full_disk(monkeypatch):
    """The disk fills up just before new content would be safe on it."""

    def fail(descriptor):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", fail)


def test_full_disk_leaves_the_old_file_whole_and_no_litter(tmp_path, full_disk):
    file = tmp_path / "list.csv"
    file.write_bytes(b"old")
    with pytest.raises(NotWritten, match=r"list.csv was not written: the disk is full\. Make room"):
        write_atomically(file, b"new")
    assert file.read_bytes() == b"old"
    assert names(tmp_path) == ["list.csv"]


def test_failure_at_the_last_step_leaves_every_file_whole(tmp_path, monkeypatch):
    files = {tmp_path / name: name.encode() for name in ("a", "b", "c")}
    (tmp_path / "b").write_bytes(b"old")
    replace = os.replace

    def held(source, target):
        if Path(target).name == "b":
            raise PermissionError(errno.EACCES, "held open")
        replace(source, target)

    monkeypatch.setattr(os, "replace", held)
    with pytest.raises(
        NotWritten, match=r"b was not written: it may not be written there\. Close any program"
    ):
        write_together(files)
    assert names(tmp_path) == ["a", "b"]
    assert ((tmp_path / "a").read_bytes(), (tmp_path / "b").read_bytes()) == (b"a", b"old")


def test_interruption_leaves_no_litter(tmp_path, monkeypatch):
    def interrupt(descriptor):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_atomically(tmp_path / "a", b"new")
    assert names(tmp_path) == []


def test_no_such_folder(tmp_path):
    with pytest.raises(NotWritten, match="there is no such folder"):
        write_atomically(tmp_path / "nowhere" / "a", b"")


def test_folder_of_that_name(tmp_path):
    (tmp_path / "a").mkdir()
    with pytest.raises(NotWritten, match="was not written"):
        write_atomically(tmp_path / "a", b"")
    assert names(tmp_path) == ["a"]


def test_together_makes_the_folders(tmp_path):
    folder = tmp_path / "jacket" / "lay"
    write_together({folder / "a": b"1", folder / "b": b"2"})
    assert names(folder) == ["a", "b"]


def test_together_where_a_file_is_in_the_way_of_a_folder(tmp_path):
    (tmp_path / "jacket").write_bytes(b"")
    with pytest.raises(NotWritten, match="is a file, not a folder"):
        write_together({tmp_path / "jacket" / "a": b"1"})


def test_together_on_a_full_disk_writes_nothing(tmp_path, full_disk):
    with pytest.raises(NotWritten):
        write_together({tmp_path / "a": b"1", tmp_path / "b": b"2"})
    assert names(tmp_path) == []


def test_earlier_files_are_kept_under_one_number(tmp_path):
    old = {tmp_path / "lay.pdf": b"1", tmp_path / "lay.csv": b"same"}
    new = {tmp_path / "lay.pdf": b"2", tmp_path / "lay.csv": b"same", tmp_path / "lay.svg": b"2"}
    write_together(old)
    assert keep_earlier(new) == (tmp_path / "lay-earlier-1.pdf",)
    write_together(new)
    assert (tmp_path / "lay-earlier-1.pdf").read_bytes() == b"1"
    assert keep_earlier(new) == ()
    assert keep_earlier({tmp_path / "lay.pdf": b"3", tmp_path / "lay.csv": b"3"}) == (
        tmp_path / "lay-earlier-2.pdf",
        tmp_path / "lay-earlier-2.csv",
    )
