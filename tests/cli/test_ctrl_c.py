"""Ctrl-C by how far a command has come: no traceback, and no lay that is lost without a word."""

import os
import signal
import subprocess
import sys
from types import SimpleNamespace

import pytest
from nesting.cli import crew, ctrl_c, start
from nesting.cli.progress import LayProgress
from nesting.cli.written import put_down

from nesting.units import Unit
from tests.cli.running import environment

STARTED = "Stopped: nothing was found yet, and nothing was written.\n"
LOST = "Stopped: nothing was written, and the lays found so far are lost.\n"
DRAWN = "All is laid; the sheets are being drawn. Ctrl-C once more ends without them.\n"

PRESSED_WHILE_LOADING = """
import os, signal, sys

class Press:
    def find_spec(self, name, path=None, target=None):
        if name in {modules!r}:
            os.kill(os.getpid(), signal.SIGINT)

sys.meta_path.insert(0, Press())
sys.argv = ["ellwand", "lay", "tote.toml", "--seconds", "0.1"]
from nesting.cli.start import main
main()
"""


def pressed_while(*modules, folder):
    """`lay`, with Ctrl-C pressed just as each of those modules begins to load."""
    return subprocess.run(
        [sys.executable, "-c", PRESSED_WHILE_LOADING.format(modules=modules)],
        cwd=folder,
        env=environment(folder),
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("module", ["typer", "nesting.errors", "numba"])
def test_while_the_program_loads_it_ends_with_one_line(tote, module):
    done = pressed_while(module, folder=tote)
    assert (done.returncode, done.stdout, done.stderr) == (130, "", STARTED)
    assert not (tote / "tote-lay").exists()


def test_while_the_drawing_library_loads_the_sheets_are_written_all_the_same(tote):
    done = pressed_while("matplotlib", folder=tote)
    assert done.returncode == 0
    assert done.stderr.endswith(DRAWN)
    assert (tote / "tote-lay" / "tote.pdf").exists()


def test_pressed_twice_while_it_loads_the_lay_is_lost_and_that_is_said(tote):
    done = pressed_while("matplotlib", "matplotlib.figure", folder=tote)
    assert (done.returncode, done.stdout) == (130, "")
    assert done.stderr.endswith(DRAWN + LOST)
    assert not (tote / "tote-lay").exists()


class Left(Exception):
    """The process would have ended here."""


@pytest.fixture
def pressed(monkeypatch, capsys):
    """Presses Ctrl-C; what is said, and whether the process ends by it."""

    def leave(words):
        raise Left(words)

    def press():
        try:
            signal.raise_signal(signal.SIGINT)
        except Left as left:
            return str(left), True
        return capsys.readouterr().err.strip(), False

    monkeypatch.setattr(ctrl_c, "leave", leave)
    with ctrl_c.watched():
        yield press


def found(cloth="main"):
    """A better lay of a cloth, as the search tells of it."""
    lay = SimpleNamespace(
        cloth=SimpleNamespace(key=cloth, name=cloth), spread=SimpleNamespace(), length_mm=1.0
    )
    return SimpleNamespace(lay=lay)


def test_in_the_search_the_first_press_ends_it_with_what_there_is(pressed):
    with LayProgress(Unit.CM) as progress:
        progress.tell(found())
        said, left = pressed()
        assert (said.splitlines()[-1], left) == (ctrl_c.SEARCHING.first, False)
        assert progress.until.pressed
    assert pressed() == (LOST.strip(), True)


def test_before_the_first_lay_it_is_said_that_there_is_none(pressed):
    with LayProgress(Unit.CM) as progress:
        said, left = pressed()
        assert said == "Enough: nothing was found yet, so every cloth gets its first lay only."
        assert not left
        assert pressed() == (STARTED.strip(), True)
        progress.tell(found())  # from here on there is something to lose, but twice is twice
        assert pressed() == (LOST.strip(), True)


def test_between_search_and_drawing_nothing_is_lost(pressed):
    with LayProgress(Unit.CM) as progress:
        progress.tell(found())
    said, left = pressed()
    assert (said.splitlines()[-1], left) == (ctrl_c.SEARCHING.first, False)


def test_commands_that_keep_lays_say_so_as_they_end(pressed):
    with LayProgress(Unit.CM, ctrl_c.COMPARING) as progress:
        progress.tell(found())
        pressed()
        assert pressed() == (ctrl_c.TAKEN_UP_AGAIN, True)
    with crew._Bar([], lambda job: "", Unit.CM) as bar:
        assert pressed() == (ctrl_c.SIDE_BY_SIDE.first, False)
        assert bar.enough()
        assert pressed() == (ctrl_c.TAKEN_UP_AGAIN, True)


def test_while_files_take_their_places_it_waits(pressed, monkeypatch, tmp_path):
    told = []
    replace = os.replace

    def replace_under_pressure(source, target):
        told.append(pressed())
        replace(source, target)

    monkeypatch.setattr(os, "replace", replace_under_pressure)
    put_down({tmp_path / name: b"sheet" for name in "abc"})
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a", "b", "c"]
    assert told == [("The sheets are being written; that takes a moment.", False), ("", False), ("", False)]
    assert pressed() == ("Stopped: all sheets are written.", True)


def test_afterwards_ctrl_c_does_what_it_did_before():
    before = signal.getsignal(signal.SIGINT)
    with ctrl_c.watched(), ctrl_c.watched():
        assert signal.getsignal(signal.SIGINT) is ctrl_c._press
    assert signal.getsignal(signal.SIGINT) is before


def test_on_a_terminal_of_one_column_it_is_said_all_the_same(pressed, monkeypatch):
    monkeypatch.setenv("COLUMNS", "1")
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    ctrl_c.reach(ctrl_c.WRITING)
    said, left = pressed()
    assert "The sheets are being" in said
    assert not left


IN_THE_BACKGROUND = """
import os, signal, sys
from nesting.cli import check, start
check.run = lambda *asked, **options: (os.kill(os.getpid(), signal.SIGINT), print("checked"))
sys.argv = ["ellwand", "check", "tote.toml"]
start.main()
"""


def test_what_a_script_runs_in_the_background_is_not_ended_by_it(tote):
    """As ``sh -c 'ellwand check tote.toml & ...'``: such a process is started with Ctrl-C ignored."""
    done = subprocess.run(
        [sys.executable, "-c", IN_THE_BACKGROUND],
        cwd=tote,
        env=environment(tote),
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN),
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "checked\n", "")


def test_a_process_that_was_ended_has_said_what_it_printed(tmp_path):
    code = "from nesting.cli.start import leave; print('a table'); leave('Stopped: so far.')"
    done = subprocess.run(
        [sys.executable, "-c", code],
        env=environment(tmp_path),
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (start.STOPPED, "a table\n", "Stopped: so far.\n")
