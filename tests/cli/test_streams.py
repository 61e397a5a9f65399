"""A reader that goes away, and a terminal that lacks letters, stop nothing."""

import subprocess
import sys

import pytest

COMMANDS = [["lay"], ["shopping"], ["chart", "--width", "90"], ["widths", "--from", "90", "--up-to", "90"]]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command[0])
def test_the_sheets_are_written_though_no_one_reads_what_is_printed(ellwand, command):
    running = subprocess.Popen(
        [sys.executable, "-m", "nesting.cli", *command, "tote.toml"],
        cwd=ellwand.folder,
        env=ellwand.environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert running.stdout is not None
    running.stdout.close()  # as head does when it has seen enough
    assert running.stderr is not None
    err = running.stderr.read()
    running.stderr.close()
    assert running.wait() == 0, err
    assert "Traceback" not in err
    assert "BrokenPipe" not in err
    assert list((ellwand.folder / f"tote-{command[0]}").glob("*.pdf"))


def test_both_streams_may_be_closed(ellwand):
    done = subprocess.run(
        f'"{sys.executable}" -m nesting.cli lay tote.toml 2>&1 | head -c 1',
        shell=True,
        cwd=ellwand.folder,
        env=ellwand.environment,
        capture_output=True,
        check=False,
    )
    assert len(done.stdout) == 1
    assert list((ellwand.folder / "tote-lay").glob("*.pdf"))


def test_letters_that_the_terminal_lacks_are_shown_as_question_marks(ellwand):
    text = (ellwand.folder / "tote.toml").read_text(encoding="utf-8").replace("canvas", "קנבס 🧵 øл")
    (ellwand.folder / "tote.toml").write_text(text, encoding="utf-8")
    done = ellwand("lay", "tote.toml", env={"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 0, done.stderr
    assert "???? ? ??" in done.stdout
