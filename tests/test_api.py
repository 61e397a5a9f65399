"""The public names, and the notebook example of the docs, run as it is printed."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

import nesting
from tests.cli.running import SMALL

DOCS = Path(__file__).parents[1] / "docs"


@pytest.mark.parametrize("name", nesting.__all__)
def test_every_public_name_is_there(name):
    assert getattr(nesting, name).__doc__


def test_an_unknown_name_is_refused():
    with pytest.raises(AttributeError, match="no attribute 'lay_projct'"):
        _ = nesting.lay_projct


def test_the_notebook_example_runs(tmp_path, monkeypatch, capsys):
    """As it is printed, but for a smaller pattern; a warning is an error here."""
    (code,) = re.findall(r"```python\n(.*?)```", (DOCS / "python.md").read_text(encoding="utf-8"), re.DOTALL)
    monkeypatch.setattr(nesting, "example_text", lambda: SMALL)
    monkeypatch.chdir(tmp_path)
    exec(compile(code, "python.md", "exec"), {})
    assert re.search(r"^canvas [0-9.]+ m [0-9]+ % waste$", capsys.readouterr().out, re.MULTILINE)
    assert (tmp_path / "jacket.pdf").read_bytes().startswith(b"%PDF")


def test_importing_the_commands_loads_nothing_heavy():
    code = (
        "import sys, nesting.cli.main; "
        "print(sorted({'numba', 'shapely', 'matplotlib', 'scipy'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
