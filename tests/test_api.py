"""The public names, and how little it takes to have them."""

import subprocess
import sys
from importlib.metadata import version

import pytest

import nesting


@pytest.mark.parametrize("name", nesting.__all__)
def test_every_public_name_is_there(name):
    assert getattr(nesting, name).__doc__


def test_an_unknown_name_is_refused():
    with pytest.raises(AttributeError, match="no attribute 'lay_projct'"):
        _ = nesting.lay_projct


def test_the_version_is_the_one_installed():
    assert nesting.__version__ == version("ellwand")


def test_importing_the_commands_loads_nothing_heavy():
    code = (
        "import sys, nesting.cli.main; "
        "print(sorted({'numba', 'shapely', 'matplotlib', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
