"""The bounds of pyproject.toml are those that CI tries: `.ci/lowest.txt` pins each to its lower one."""

import re
import tomllib
from importlib.metadata import version
from pathlib import Path

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
EXTRAS = PROJECT["optional-dependencies"]


def lowest(requirements):
    """``numba>=0.60.0,<0.69`` is pinned by ``numba==0.60.0``."""
    return {re.match(r"([\w-]+>=[\w.]+)", asked)[1].replace(">=", "==") for asked in requirements}


def test_the_constraints_are_the_lower_bounds():
    text = (ROOT / ".ci" / "lowest.txt").read_text(encoding="utf-8")
    pins = [line for line in text.splitlines() if line and not line.startswith("#")]
    assert pins == sorted(lowest([*PROJECT["dependencies"], *EXTRAS["test"]]))


def test_what_is_asked_for_twice_is_asked_for_alike():
    assert set(EXTRAS["distributed"]) <= set(EXTRAS["test"])


def test_numba_is_capped_at_the_minor_version_after_the_newest_tried():
    """`packing.jit` uses private parts of numba, which any minor version may change."""
    (asked,) = (name for name in PROJECT["dependencies"] if name.startswith("numba"))
    below = tuple(int(part) for part in re.search(r"<([\d.]+)$", asked)[1].split("."))
    assert tuple(int(part) for part in version("numba").split(".")[:2]) < below


def test_what_a_leg_tests_is_there():
    part = re.search(
        r"^part=\((.*?)\)", (ROOT / ".ci" / "leg").read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
    )
    assert [path for path in part[1].split() if not (ROOT / path).is_file()] == []
