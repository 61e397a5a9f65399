"""Results kept on disk: found again, never half there, and never trusted when damaged."""

import errno
import os
from concurrent.futures import ThreadPoolExecutor

import pytest

from nesting.cloth.cloth import Spread
from nesting.cutting.lay import Run
from nesting.estimate.figures import ClothFigures
from nesting.estimate.on_remnant import OnRemnant
from nesting.files.results.kept import KeptResults, usual_folder
from nesting.packing.result import StopReason

FIGURES = ClothFigures(
    length_mm=1155.8,
    washed_mm=1215.8,
    unwashed_mm=1253.4,
    to_buy_mm=1300.0,
    spare_mm=45.2,
    least_to_buy_mm=1200.0,
    pieces_area_mm2=1.1e6,
    cloth_area_mm2=1.9e6,
    pieces=17,
    runs=((Run(Spread.LENGTHWISE_FOLD, 2), Run(Spread.OPEN, 1)), (Run(Spread.OPEN, 1, cut_open=True),)),
    stopped_because=StopReason.EVALUATIONS,
    in_hand=(OnRemnant("wool", 0.0, 220.5), OnRemnant("wool, remnant", 30.0, 0.0)),
    lacking_mm=30.0,
    rounds=11,
)
KEY = "a1" * 32


@pytest.fixture
def kept(tmp_path):
    return KeptResults(tmp_path / "kept")


def test_what_is_kept_is_found_by_its_key_alone(kept):
    assert kept.get(KEY) is None
    kept.put(KEY, FIGURES)
    assert KeptResults(kept.folder).get(KEY) == FIGURES
    assert kept.get("b2" * 32) is None


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: "",
        lambda text: text[: len(text) // 2],
        lambda text: text.replace("1300.0", "1200.0"),  # sound JSON, but not what was kept
        lambda text: text.replace('"pieces": 17', '"pieces": "17"'),
        lambda text: text.replace(KEY, "b2" * 32),
        lambda text: "[1, 2]",
        lambda text: text.replace('"ellwand-kept 4"', "[]"),
        lambda text: "[" * 200_000,  # deeper than Python reads
        lambda text: text + " " * 2_000_000,
        lambda text: "\x00\xff",
        lambda text: text.replace('"runs"', '"lies"'),
    ],
)
def test_a_damaged_entry_is_passed_over_and_replaced(kept, damage):
    kept.put(KEY, FIGURES)
    (file,) = kept.folder.iterdir()
    damaged = damage(file.read_text(encoding="utf-8"))
    assert damaged != file.read_text(encoding="utf-8")
    file.write_text(damaged, encoding="latin-1")
    assert kept.get(KEY) is None
    assert kept.damaged == 1
    kept.put(KEY, FIGURES)
    assert kept.get(KEY) == FIGURES
    assert kept.damaged == 1


def test_an_entry_of_another_version_is_passed_over_without_a_word(kept):
    kept.put(KEY, FIGURES)
    (file,) = kept.folder.iterdir()
    file.write_text(file.read_text(encoding="utf-8").replace("ellwand-kept 4", "ellwand-kept 3"))
    assert kept.get(KEY) is None
    assert kept.get("b2" * 32) is None
    assert not kept.damaged


def test_two_runs_may_share_the_folder(kept):
    other = KeptResults(kept.folder)
    keys = [f"{n:064x}" for n in range(20)]

    def run(store):
        for key in keys:
            store.put(key, FIGURES)
            assert store.get(key) == FIGURES

    with ThreadPoolExecutor(2) as two:
        list(two.map(run, (kept, other)))
    assert sorted(path.name for path in kept.folder.iterdir()) == [f"{key}.json" for key in keys]


def test_without_room_the_program_goes_on_and_says_why(kept, monkeypatch):
    def full(descriptor):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    kept.put(KEY, FIGURES)
    assert kept.get(KEY) is None
    assert "the disk is full" in kept.trouble


def test_a_file_in_the_place_of_the_folder_is_no_end_either(kept):
    kept.folder.write_bytes(b"")
    kept.put(KEY, FIGURES)
    assert kept.get(KEY) is None
    assert kept.trouble


def test_the_folder_is_where_the_system_wants_such_things(monkeypatch, tmp_path):
    """XDG Base Directory Specification 0.8: $XDG_CACHE_HOME; other systems by the library platformdirs."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setattr("sys.platform", "linux")
    assert usual_folder().is_relative_to(tmp_path)
