"""``ellwand chart`` as a person types it."""

import csv
import signal
import subprocess

import pytest

from tests.cli.running import PROGRAM, environment

LITTLE = ("--width", "90", "--width", "1.2 m", "--workers", "2")


def test_the_chart_is_printed_and_written_in_four_forms_and_kept(ellwand):
    done = ellwand("chart", "tote.toml", *LITTLE)
    assert done.returncode == 0, done.stderr
    written = ellwand.folder / "tote-chart"
    assert {path.suffix for path in written.iterdir()} == {".pdf", ".png", ".txt", ".csv"}
    assert (written / "tote-chart.txt").read_text(encoding="utf-8") in done.stdout
    rows = list(csv.DictReader((written / "tote-chart.csv").read_text(encoding="utf-8").splitlines()))
    assert [(row["width_mm"], row["nap"]) for row in rows] == [
        ("900", "either way"),
        ("900", "one way"),
        ("1200", "either way"),
        ("1200", "one way"),
    ]
    told = [line for line in done.stderr.splitlines() if line and not line.startswith("Preparing")]
    assert len(told) == 4  # a line a lay, where there is no terminal to draw a bar on
    again = ellwand("chart", "tote.toml", *LITTLE)
    assert again.stderr == ""  # nothing was laid again
    assert again.stdout == done.stdout


def test_ctrl_c_keeps_what_there_is_and_the_same_command_goes_on(ellwand):
    assert ellwand("new", "jacket.toml").returncode == 0
    command = ["chart", "jacket.toml", "--cloth", "interfacing", "--width", "90", "--width", "115"]
    command += ["--seconds", "1"]
    running = subprocess.Popen(
        [*PROGRAM, *command, "--workers", "1"],
        cwd=ellwand.folder,
        env=environment(ellwand.folder),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        # A shell that runs things in the background has them ignore Ctrl-C.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    assert running.stderr is not None
    assert any("interfacing" in line for line in running.stderr)
    running.send_signal(signal.SIGINT)
    out, err = running.communicate()
    assert running.returncode == 0, err
    assert "Enough" in err
    assert "Traceback" not in err
    assert "…" in out or "*" in out
    again = ellwand(*command)
    assert "1 of 2 lays are kept" in again.stderr
    assert "…" not in again.stdout


@pytest.mark.parametrize("width", ["wide", "3 mm", "1,150"])
def test_what_is_no_width_is_told(ellwand, width):
    done = ellwand("chart", "tote.toml", "--width", width)
    assert done.returncode == 2
    assert f"--width {width}" in done.stderr
    assert "Traceback" not in done.stderr
