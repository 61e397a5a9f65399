"""What can happen to a disk while sheets are written, made to happen: old files stay whole."""

import errno
import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import pytest

from nesting.files.results.writing import NotWritten, require_writable, write_together

NOBODY = 65534
MANY = 3_000_000
"""Bytes; enough that a write is often caught in the middle."""


@pytest.fixture
def as_nobody():
    """Run as a person who is not root, whom no folder refuses."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def folder():
    """A folder with an old file in it, in a place that everybody may enter."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "list.csv").write_bytes(b"old")
        folder.chmod(0o755)
        yield folder
        folder.chmod(0o755)


def test_a_folder_that_may_only_be_read(folder, request):
    folder.chmod(0o555)
    request.getfixturevalue("as_nobody")
    with pytest.raises(NotWritten, match=r"it may not be written there\. Close any program"):
        write_together({folder / "list.csv": b"new", folder / "lay.pdf": b"new"})
    assert [path.name for path in folder.iterdir()] == ["list.csv"]
    assert (folder / "list.csv").read_bytes() == b"old"


@pytest.fixture
def shut(folder):
    """A folder that nobody but root may look into."""
    (folder / "shut").mkdir(mode=0o000)
    return folder / "shut"


def test_a_folder_that_may_not_be_looked_into_is_told_before_long_work(shut, as_nobody):
    with pytest.raises(NotWritten, match=r"sheets was not written: it may not be written there"):
        require_writable(shut / "jacket" / "sheets")


def test_what_stands_there_and_cannot_be_read_is_told_and_nothing_is_written(folder, monkeypatch):
    """It was a traceback after the search, and the lay was lost."""
    read = Path.read_bytes

    def refused(path):
        if path.name == "list.csv":
            raise PermissionError(errno.EACCES, "Permission denied")
        return read(path)

    monkeypatch.setattr(Path, "read_bytes", refused)
    with pytest.raises(NotWritten, match=r"list\.csv was not written: .* cannot be read .* Move it away"):
        write_together({folder / "lay.pdf": b"new", folder / "list.csv": b"new"})
    assert [path.name for path in folder.iterdir()] == ["list.csv"]


WRITER = """
import resource, signal, sys
from pathlib import Path
from nesting.files.results.writing import NotWritten, write_together
folder = Path(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))  # the system refuses to write more than that
try:
    write_together({folder / "small.csv": b"new", folder / "list.csv": b"n" * 5000})
except NotWritten as error:
    sys.exit(str(error))
"""


@pytest.mark.skipif(sys.platform == "win32", reason="the limit is set in a way of Unix")
def test_where_the_system_refuses_in_the_midst_of_a_file(folder):
    done = subprocess.run([sys.executable, "-c", WRITER, folder], capture_output=True, text=True, check=False)
    assert "list.csv was not written: files of that size are not allowed there." in done.stderr
    assert [path.name for path in folder.iterdir()] == ["list.csv"]
    assert (folder / "list.csv").read_bytes() == b"old"


KILLED = """
import sys
from pathlib import Path
from nesting.files.results.writing import write_together
folder = Path(sys.argv[1])
print("begun", flush=True)
for turn in range(1_000_000):
    letter = b"ab"[turn % 2 : turn % 2 + 1]
    write_together({folder / name: letter * int(sys.argv[2]) for name in ("lay.pdf", "lay.json")})
"""


@pytest.mark.parametrize("after_s", [0.0, 0.013, 0.029, 0.05])
def test_a_process_killed_while_it_writes_leaves_whole_files(folder, after_s):
    for name in ("lay.pdf", "lay.json"):
        (folder / name).write_bytes(b"a" * MANY)
    running = subprocess.Popen([sys.executable, "-c", KILLED, folder, str(MANY)], stdout=subprocess.PIPE)
    assert running.stdout is not None
    running.stdout.readline()
    time.sleep(after_s)
    running.send_signal(signal.SIGKILL)
    running.wait()
    running.stdout.close()
    for name in ("lay.pdf", "lay.json"):
        data = (folder / name).read_bytes()
        assert data in (b"a" * MANY, b"b" * MANY)


def test_a_copy_of_earlier_sheets_is_whole_or_not_there(folder, monkeypatch):
    (folder / "lay.pdf").write_bytes(b"old too")
    calls = []

    def full_at_the_second(descriptor):
        calls.append(descriptor)
        if len(calls) == 2:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full_at_the_second)
    with pytest.raises(NotWritten, match="the disk is full"):
        write_together({folder / "list.csv": b"new", folder / "lay.pdf": b"new"})
    assert sorted(path.name for path in folder.iterdir()) == ["lay.pdf", "list.csv"]
