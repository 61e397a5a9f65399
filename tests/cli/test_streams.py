"""A reader that goes away, and a terminal that lacks letters, stop nothing."""

import os
import subprocess

import pytest

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
    assert bool(list(ellwand.folder.glob("tote-lay/*.pdf"))) is both


def test_letters_that_the_terminal_lacks_are_shown_as_question_marks(tote, alone):
    text = (tote / "tote.toml").read_text(encoding="utf-8").replace('"tote"', '"קנבס 🧵 øл"')
    (tote / "tote.toml").write_text(text, encoding="utf-8")
    done = alone("check", "tote.toml", PYTHONIOENCODING="ascii")
    assert done.returncode == 0, done.stderr
    assert "???? ? ??" in done.stdout
