"""The wheel that a person installs: one top-level name, every module and data file, a command that starts."""

import os
import shutil
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCES = ("nesting", "cli", "pyproject.toml", "README.md", "LICENSE")
SHIPPED = {".py", ".toml", ".typed"}


def pip(*arguments):
    subprocess.run(
        [sys.executable, "-m", "pip", "--no-input", "--disable-pip-version-check", *map(str, arguments)],
        check=True,
        capture_output=True,
        text=True,
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """Built without a network from a copy, so that nothing of an earlier build gets into it."""
    tree = tmp_path_factory.mktemp("tree")
    for name in SOURCES:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, tree / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy(ROOT / name, tree / name)
    built = tmp_path_factory.mktemp("wheel")
    pip("wheel", "--quiet", "--no-deps", "--no-index", "--no-build-isolation", "--wheel-dir", built, tree)
    (file,) = built.glob("*.whl")
    return file


def in_wheel(path):
    """Where a file of the tree is in the wheel: the folder `cli` is `nesting.cli` there."""
    relative = path.relative_to(ROOT)
    return str("nesting" / relative if relative.parts[0] == "cli" else relative)


def test_it_has_one_top_level_name_and_every_file_of_ours(wheel):
    with zipfile.ZipFile(wheel) as archive:
        names = {name for name in archive.namelist() if ".dist-info/" not in name}
    ours = [p for folder in ("nesting", "cli") for p in (ROOT / folder).rglob("*") if p.suffix in SHIPPED]
    assert len(ours) > 100
    assert names == {in_wheel(path) for path in ours}
    assert {name.partition("/")[0] for name in names} == {"nesting"}


def test_the_packages_of_pyproject_are_the_folders():
    """A folder that is left out of the list would be missing from the wheel alone."""
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    folders = {path.parent for folder in ("nesting", "cli") for path in (ROOT / folder).rglob("*.py")}
    names = {in_wheel(folder).replace("/", ".") for folder in folders}
    assert set(settings["tool"]["setuptools"]["packages"]) == names


def test_the_installed_command_starts(wheel, tmp_path):
    pip("install", "--quiet", "--no-deps", "--no-index", "--target", tmp_path / "site", wheel)
    environment = {**os.environ, "PYTHONPATH": str(tmp_path / "site"), "PYTHONDONTWRITEBYTECODE": "1"}

    def said(*command):
        done = subprocess.run(
            command, cwd=tmp_path, env=environment, check=True, capture_output=True, text=True
        )
        return done.stdout

    where = said(sys.executable, "-c", "import nesting.cli.main as main; print(main.__file__)")
    assert Path(where.strip()) == tmp_path / "site" / "nesting" / "cli" / "main.py"
    command = tmp_path / "site" / "bin" / "ellwand"
    assert said(command, "--version").startswith("ellwand ")
    said(command, "new", "jacket.toml")
    assert "front" in said(command, "check", "jacket.toml", "--no-sheet")
