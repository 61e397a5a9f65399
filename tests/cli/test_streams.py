"""A reader that goes away, a full disk, a terminal that lacks letters or room: they stop nothing."""

import io
import os
import subprocess
import sys

import pytest
from nesting.cli.terminal import show
from rich import box
from rich.table import Table

from tests.cli.running import PROGRAM, environment

COMMANDS = [["lay"], ["shopping"], ["chart", "--width", "90"], ["widths", "--from", "90", "--up-to", "90"]]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
def test_the_sheets_are_written_though_no_one_reads_what_is_printed(ellwand, command):
    reading, writing = os.pipe()
    os.close(reading)  # as head does when it has seen enough
    with open(writing, "w", encoding="utf-8") as unread:
        done = ellwand(*command, "tote.toml", stdout=unread)
    assert done.returncode == 0, done.stderr
    assert "BrokenPipe" not in done.stderr
    assert list((ellwand.folder / f"tote-{command[0]}").glob("*.pdf"))


@pytest.mark.parametrize("command", ["check", "lay"])
def test_a_process_ends_well_though_no_one_reads_what_is_printed(ellwand, command):
    both = command == "lay"  # what goes on is told on the other stream
    with subprocess.Popen(
        [*PROGRAM, command, "tote.toml"],
        cwd=ellwand.folder,
        env=environment(ellwand.folder),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT if both else subprocess.PIPE,
        text=True,
    ) as running:
        running.stdout.close()
        told = "" if both else running.stderr.read()
    assert (running.returncode, told) == (0, "")
    assert list(ellwand.folder.glob(f"tote-{command}/*.pdf"))


def test_letters_that_the_terminal_lacks_are_shown_as_question_marks(tote, alone):
    text = (tote / "tote.toml").read_text(encoding="utf-8").replace('"tote"', '"קנבס 🧵 øл"')
    (tote / "tote.toml").write_text(text, encoding="utf-8")
    done = alone("check", "tote.toml", "--no-sheet", PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert "???? ? ??" in done.stdout


FULL = "/dev/full"


@pytest.mark.skipif(not os.path.exists(FULL), reason="a device of Linux that is always full")
def test_the_sheets_are_written_though_the_disk_of_what_is_printed_is_full(ellwand, quick_pdf):
    with open(FULL, "w", encoding="utf-8") as full:
        done = ellwand("lay", "tote.toml", "--seconds", "0.1", stdout=full)
        assert done.returncode == 2
        assert done.stderr.endswith("What was to be printed could not be written: No space left on device.\n")
    assert (ellwand.folder / "tote-lay" / "tote.pdf").exists()


@pytest.mark.skipif(not os.path.exists(FULL), reason="a device of Linux that is always full")
def test_so_it_is_told_where_the_answer_is_no(ellwand):
    file = ellwand.folder / "tote.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("price = 12", "in_hand = 54"), encoding="utf-8")
    with open(FULL, "w", encoding="utf-8") as full:
        done = ellwand("lay", "tote.toml", "--seconds", "0.1", stdout=full)
    assert done.returncode == 3
    assert done.stderr.endswith("What was to be printed could not be written: No space left on device.\n")


@pytest.mark.skipif(not os.path.exists("/proc/self/fd"), reason="looks in a way of Linux")
def test_a_closed_output_goes_nowhere_and_no_file_is_taken_for_it(tote):
    """What a shell does at ``ellwand check tote.toml >&- 2>&-``."""
    closing = "import os, sys; os.closerange(0, 3); os.execv(sys.executable, [sys.executable, *sys.argv[1:]])"
    looking = """
import atexit, os, sys
from nesting.cli import start
sys.argv = ["ellwand", "check", "tote.toml"]
atexit.register(lambda: open("seen", "w").write(os.readlink("/proc/self/fd/1")))
start.main()
"""
    done = subprocess.run(
        [sys.executable, "-c", closing, "-c", looking], cwd=tote, env=environment(tote), check=False
    )
    assert done.returncode == 0
    assert (tote / "seen").read_text() == os.devnull


def test_the_sheets_come_before_what_is_printed(ellwand, quick_pdf):
    written = []

    class Watching(io.StringIO):
        def write(self, text):
            written.append((ellwand.folder / "tote-lay" / "tote.pdf").exists())
            return super().write(text)

    ellwand("lay", "tote.toml", "--seconds", "0.1", stdout=Watching())
    assert written
    assert all(written)


@pytest.mark.parametrize("columns", [20, 45])
def test_a_narrow_terminal_shows_every_amount(monkeypatch, capsys, columns):
    monkeypatch.setenv("COLUMNS", str(columns))
    table = Table("cloth", "width", "buy", "cost", "laid", title="What to buy")
    table.add_row("canvas", "100 cm", "0.90 m", "10.80", "lengthwise fold")
    table.add_row("together", "", "", "10.80", "")
    show(table)
    said = [line.strip() for line in capsys.readouterr().out.splitlines()]
    assert said == [
        *["What to buy:", "- canvas", "width: 100 cm", "buy: 0.90 m", "cost: 10.80", "laid: lengthwise fold"],
        *["- together", "cost: 10.80", ""],
    ]


@pytest.mark.parametrize("name", ["canvas", "a[/b]", "[bold]", ":cat:"])
@pytest.mark.parametrize("colour", ["", "1"])
def test_a_wide_one_shows_a_table_whatever_the_cloth_is_called(monkeypatch, capsys, name, colour):
    """Where colour is asked for, words have codes about them; and nothing in a name means anything."""
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("FORCE_COLOR", colour)  # empty: as if not set
    table = Table("cloth", "width", "buy", "cost", "laid", box=box.SIMPLE_HEAD)
    table.add_row(name, "100 cm", "0.90 m", "10.80", "lengthwise fold")
    show(table)
    said = capsys.readouterr().out
    assert all(word in said.split() for word in [name, "0.90", "10.80", "lengthwise", "fold"])
    assert "…" not in said
    assert "- " not in said  # as a list would begin
