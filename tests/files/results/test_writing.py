import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from nesting.files.results import writing
from nesting.files.results.writing import (
    NotWritten,
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


def test_a_path_that_is_too_long_as_a_whole_is_told(tmp_path):
    with pytest.raises(NotWritten, match=r"its name is too long\. Choose a shorter name"):
        require_writable(tmp_path.joinpath(*["sheets" * 30] * 40))


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


def test_failure_at_the_last_step_leaves_the_set_as_it_was(tmp_path, monkeypatch):
    (tmp_path / "a").write_bytes(b"old")
    (tmp_path / "c").write_bytes(b"old")
    replace = os.replace

    def held(source, target):
        if Path(target).name == "c":
            raise PermissionError(errno.EACCES, "held open")
        replace(source, target)

    monkeypatch.setattr(os, "replace", held)
    with pytest.raises(
        NotWritten, match=r"c was not written: it may not be written there\. Close any program"
    ):
        write_together({tmp_path / name: name.encode() for name in ("a", "b", "c")})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"old", "c": b"old"}


def test_a_folder_in_the_place_of_one_file_is_told_before_anything_is_written(tmp_path):
    (tmp_path / "lay.svg").mkdir()
    with pytest.raises(NotWritten, match=r"lay.svg was not written: there is a folder of that name"):
        require_writable(tmp_path, ["lay.pdf", "lay.svg"])
    with pytest.raises(NotWritten, match=r"Nothing of this set was written\. Move the folder away"):
        write_together({tmp_path / "lay.pdf": b"new", tmp_path / "lay.svg": b"new"})
    assert names(tmp_path) == ["lay.svg"]


@pytest.mark.parametrize("folder", ["sheets", "sheets/jacket"])
def test_a_link_that_leads_nowhere_is_told_before_anything_is_made(tmp_path, folder):
    (tmp_path / "sheets").symlink_to(tmp_path / "gone")
    with pytest.raises(NotWritten, match=r"sheets is a link that leads nowhere\. Mend the link"):
        require_writable(tmp_path / folder)


def test_what_a_killed_run_left_half_written_is_cleared_away_by_a_later_one(tmp_path):
    (tmp_path / ".ellwand-0123456789abcdef.tmp").write_bytes(b"half a sh")
    (tmp_path / ".notes.tmp").write_bytes(b"the person's own")
    write_together({tmp_path / "lay.pdf": b"new"})
    assert names(tmp_path) == [".notes.tmp", "lay.pdf"]


def test_a_run_waits_for_another_that_writes_into_the_folder(tmp_path, monkeypatch):
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr(writing, "WAIT_S", 0.0)
    other = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(other, fcntl.LOCK_EX)
    with pytest.raises(NotWritten, match=r"another run is writing there .* choose another folder"):
        write_together({tmp_path / "lay.pdf": b"new"})
    os.close(other)
    write_together({tmp_path / "lay.pdf": b"new"})
    assert names(tmp_path) == ["lay.pdf"]


RUN = """
import sys
from pathlib import Path
from nesting.files.results.writing import write_together
sys.stdin.readline()  # both begin at once
for turn in range(int(sys.argv[3])):
    result = f"{sys.argv[2]} {turn}".encode()
    write_together({Path(sys.argv[1]) / name: result for name in ("lay.pdf", "lay.csv")})
"""
TURNS = 15


def test_two_runs_into_one_folder_lose_no_result(tmp_path):
    command = [sys.executable, "-c", RUN, str(tmp_path)]
    both = [subprocess.Popen([*command, name, str(TURNS)], stdin=subprocess.PIPE, text=True) for name in "ab"]
    for one in both:
        one.stdin.write("\n")
        one.stdin.close()
    assert [one.wait() for one in both] == [0, 0]
    wanted = {f"{name} {turn}" for name in "ab" for turn in range(TURNS)}
    for suffix in (".pdf", ".csv"):
        assert {path.read_text() for path in tmp_path.glob(f"*{suffix}")} == wanted
    pairs = [(path.read_text(), path.with_suffix(".csv").read_text()) for path in tmp_path.glob("*.pdf")]
    assert all(pdf == csv for pdf, csv in pairs)  # a set stays together


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
    write_together({tmp_path / "lay.pdf": b"1", tmp_path / "lay.csv": b"same"})
    new = {tmp_path / "lay.pdf": b"2", tmp_path / "lay.csv": b"same", tmp_path / "lay.svg": b"2"}
    assert write_together(new) == (tmp_path / "lay-earlier-1.pdf",)
    assert (tmp_path / "lay-earlier-1.pdf").read_bytes() == b"1"
    assert write_together(new) == ()
    assert write_together({tmp_path / "lay.pdf": b"3", tmp_path / "lay.csv": b"3"}) == (
        tmp_path / "lay-earlier-2.pdf",
        tmp_path / "lay-earlier-2.csv",
    )


def test_no_number_is_taken_that_a_file_of_the_same_set_has(tmp_path):
    mine, other = tmp_path / "lay-main.png", tmp_path / "lay-main-earlier-1.png"
    write_together({mine: b"old"})
    assert write_together({mine: b"new", other: b"another cloth"}) == (tmp_path / "lay-main-earlier-2.png",)
    assert (mine.read_bytes(), other.read_bytes()) == (b"new", b"another cloth")


def test_what_an_earlier_set_left_under_other_names_goes_with_it(tmp_path):
    names = [tmp_path / name for name in ("lay.pdf", "lay-wool.png", "lay-lining.png")]
    write_together({path: b"monday" for path in names})
    assert write_together({names[0]: b"monday"}, names) == ()
    assert names[1].read_bytes() == b"monday"  # of the same lay: nothing of it has changed
    write_together({names[0]: b"tuesday"}, names)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "lay-earlier-1.pdf",
        "lay-lining-earlier-1.png",
        "lay-wool-earlier-1.png",
        "lay.pdf",
    ]
