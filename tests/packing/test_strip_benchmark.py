"""``python -m benchmarks.strip`` as it is typed: what it prints, and the same again in another process."""

import json
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from importlib import import_module
from io import StringIO
from pathlib import Path

import pytest
from shapely import Polygon

import nesting
from benchmarks.strip import main

ROOT = Path(nesting.__file__).parents[1]

HOOK = [[0, 0], [12, 0], [12, 4], [4, 4], [4, 9], [0, 9]]
ARCH = [[0, 0], [15, 0], [15, 8], [11, 8], [11, 3], [4, 3], [4, 8], [0, 8]]
DART = [[0, 0], [11, 3], [0, 8], [3, 4]]
TURNS = [0.0, 90.0, 180.0, 270.0]
WIDTH = 23.0

KEYS = ["instance", "seconds asked", "seconds used", "seed", "workers"]
KEYS += ["length", "density", "bound", "verified", "evaluations"]


def piece(name, outline, quantity, rotations):
    return {"id": name, "outline": outline, "quantity": quantity, "rotations": rotations}


def instance(*pieces, width=WIDTH):
    return {"name": "no one looks at this", "strip_width": width, "pieces": pieces}


SCRAPS = instance(
    piece("hook", HOOK, 4, TURNS), piece("arch", ARCH, 3, TURNS), piece("dart", DART, 4, [0.0, 180.0])
)


def strip(*arguments):
    """The benchmark in this process: how it ends, and what it prints."""
    out, err = StringIO(), StringIO()
    with pytest.MonkeyPatch.context() as shell, redirect_stdout(out), redirect_stderr(err):
        shell.setattr(sys, "argv", ["strip", *map(str, arguments)])
        try:
            main()
            code = 0
        except SystemExit as end:
            code = end.code
    return subprocess.CompletedProcess(arguments, code, out.getvalue(), err.getvalue())


def strip_elsewhere(*arguments):
    """The same in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "benchmarks.strip", *map(str, arguments)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )


def lines(done):
    """What was printed, each line as pairs in their order."""
    return [json.loads(line, object_pairs_hook=list) for line in done.stdout.splitlines()]


@pytest.fixture
def scraps(tmp_path):
    file = tmp_path / "scraps.json"
    file.write_text(json.dumps(SCRAPS), encoding="utf-8")
    return file


def test_same_file_seed_and_evaluations_the_same_length_to_the_last_digit(scraps):
    counted = ("--evaluations", 4_000_000, "--seed", 5, "--workers", 2)
    first, again = strip_elsewhere(scraps, *counted), strip(scraps, *counted)
    assert (first.returncode, first.stderr) == (0, "")
    (one,), (other,) = lines(first), lines(again)
    assert [key for key, _ in one] == KEYS
    for (key, value), (_, same) in zip(one, other, strict=True):
        assert value == same or key == "seconds used"
    told = dict(one)
    assert told["seconds asked"] is None
    assert [told[key] for key in KEYS if key in {"instance", "seed", "workers"}] == ["scraps", 5, 2]
    assert told["evaluations"] >= 4_000_000
    assert told["verified"] is True
    ((unsearched,),) = [lines(strip(scraps, "--evaluations", 0, "--seed", 5))]
    assert told["length"] < dict(unsearched)["length"]  # so there was a search to be repeated


def test_by_the_clock_the_same_is_told_and_the_seconds_that_were_asked_for(scraps):
    (line,) = lines(strip(scraps, "--seconds", 0.5, "--workers", 1))
    assert [key for key, _ in line] == KEYS
    told = dict(line)
    assert (told["seconds asked"], told["seed"], told["workers"]) == (0.5, 0, 1)
    assert told["seconds used"] > 0
    assert told["evaluations"] > 0
    assert told["verified"] is True


@pytest.mark.parametrize("seconds", ["nan", "inf", "-1", "ten"])
@pytest.mark.parametrize("benchmark", ["strip", "curve", "home", "scaling", "hard_input"])
def test_a_limit_by_which_no_search_could_end_is_refused(monkeypatch, capsys, benchmark, seconds):
    files = ["away.json"] if benchmark in {"strip", "curve"} else []
    monkeypatch.setattr(sys, "argv", [benchmark, *files, f"--seconds={seconds}"])
    with pytest.raises(SystemExit) as ended:
        import_module(f"benchmarks.{benchmark}").main()
    assert ended.value.code == 2
    assert f"argument --seconds: '{seconds}' is no number of seconds" in capsys.readouterr().err


def test_density_is_what_the_pieces_cover_and_the_bound_is_no_longer_than_the_lay(scraps):
    (line,) = lines(strip(scraps, "--evaluations", 200_000))
    told = dict(line)
    area = sum(one["quantity"] * Polygon(one["outline"]).area for one in SCRAPS["pieces"])
    assert told["density"] == pytest.approx(100 * area / (WIDTH * told["length"]), rel=1e-12)
    assert area / WIDTH <= told["bound"] * (1 + 1e-6)
    assert told["bound"] <= told["length"]


FAULTS = {
    "bow.json": (
        instance(piece("bow", [[0, 0], [9, 9], [9, 0], [0, 8]], 1, [0.0])),
        "crosses or touches itself",
    ),
    "bare.json": (instance({"id": "hook", "outline": HOOK, "quantity": 1}), "piece 1 has no 'rotations'"),
    "flat.json": (instance(piece("line", [1, 2, 3], 1, [0.0])), "'line': an outline is a table of x and y"),
    "half.json": (instance(piece("hook", HOOK, 2.5, [0.0])), "piece 1 makes no sense"),
    "list.json": ([HOOK], "make no sense"),
    "none.json": (instance(), "there is nothing to place"),
    "slim.json": (
        instance(piece("hook", HOOK, 1, [0.0]), width=5.0),
        "'hook' measures at least 9.0 mm across",
    ),
    "widthless.json": ({"pieces": [piece("hook", HOOK, 1, [0.0])]}, "it has no 'strip_width'"),
    "word.json": (instance(piece("hook", [["zero", 0], [1, 0], [1, 1]], 1, [0.0])), "piece 1 makes no sense"),
}


def test_what_is_wrong_with_a_file_is_told_and_the_others_are_packed(tmp_path, scraps):
    for name, (content, _) in FAULTS.items():
        (tmp_path / name).write_text(json.dumps(content), encoding="utf-8")
    (tmp_path / "torn.json").write_text(json.dumps(SCRAPS)[:40], encoding="utf-8")
    (tmp_path / "zinc.json").write_bytes(b"\xff\xfe")
    (tmp_path / "empty").mkdir()
    done = strip(tmp_path / "away.json", tmp_path, tmp_path / "empty", scraps, "--evaluations", 0)
    assert done.returncode == 2
    assert [dict(line)["instance"] for line in lines(done)] == ["scraps", "scraps"]
    words = {name: words for name, (_, words) in FAULTS.items()}
    words |= {
        "away.json": "it can't be read",
        "empty": "no .json file",
        "torn.json": "no JSON",
        "zinc.json": "no JSON",
    }
    told = done.stderr.splitlines()
    assert len(told) == len(words)
    for line in told:
        name = Path(line.split(": ")[0]).name
        assert words.pop(name) in line
    assert words == {}


def test_kernels_are_there_before_the_clock_of_other_benchmarks_starts():
    asked = """
from benchmarks.garments import order
from benchmarks.home import begin
from nesting.packing.jit import is_loaded
from nesting.packing.walks.separate import passes
from nesting.packing.kernels.settle import settle
begin(order(0, 1))
print(is_loaded(passes), is_loaded(settle))
"""
    done = subprocess.run(
        [sys.executable, "-c", asked], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.stdout.split() == ["True", "True"], done.stderr
