"""The processes that lay side by side end with the one that started them, however it ends."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from nesting.packing.walks import preparing

ROOT = Path(__file__).parents[3]
CHART = """
import os, sys
from nesting.estimate.many.crew import ProcessCrew

def idle():
    return os.getpid()

if __name__ == "__main__":
    with ProcessCrew(1) as crew:
        print(crew._pool.submit(idle).result(), flush=True)
        sys.stdin.readline()
"""
PATIENCE_S = 30.0


def is_running(pid):
    """Whether there is such a process, other than one that has ended and is not collected."""
    try:
        return "\nState:\tZ" not in Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return False


def has_ended(pid):
    until = time.monotonic() + PATIENCE_S
    while is_running(pid) and time.monotonic() < until:
        time.sleep(0.02)
    return not is_running(pid)


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="looks for processes in a way of Linux")
@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM])
def test_a_worker_ends_when_its_chart_is_killed(tmp_path, how):
    (tmp_path / "chart.py").write_text(CHART, encoding="utf-8")
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        [sys.executable, str(tmp_path / "chart.py")],
        env=environment,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as chart:
        worker = int(chart.stdout.readline())
        assert is_running(worker)
        chart.send_signal(how)
        chart.wait()
        assert has_ended(worker)


def test_so_does_the_process_that_compiles_beside_the_first_lay():
    """It sees its standard input close, which whoever is killed closes too."""
    done = subprocess.run(
        [sys.executable, "-m", preparing.__name__],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        timeout=PATIENCE_S,
        check=False,
    )
    assert done.returncode == 1


def test_until_then_it_comes_to_an_end_of_its_own_as_any_other():
    """A thread that waits for standard input by Python's own reading would end it with a fatal error."""
    code = (
        "import threading; from nesting.packing.walks import preparing; "
        "threading.Thread(target=preparing._end_with_the_first, daemon=True).start()"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as second:
        assert second.wait(PATIENCE_S) == 0
        assert second.stderr.read() == b""
