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


def test_checking_a_file_loads_no_compiler():
    """Numba takes as long to load as all the rest, and only laying needs it."""
    code = (
        "import sys; from nesting.cutting.fit.fitting import require_fit; "
        "import nesting.cli.check, nesting.cli.tables; "
        "from nesting.files.example import example_text; "
        "from nesting.files.project.reading import parse_project; "
        "require_fit(parse_project(example_text(), source='jacket.toml')); "
        "print(sorted({'numba', 'matplotlib', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_importing_the_commands_loads_nothing_heavy():
    code = (
        "import sys, nesting.cli.main; "
        "print(sorted({'numba', 'shapely', 'matplotlib', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
