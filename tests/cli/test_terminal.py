"""Commands that the program tells the person to type."""

import shlex
import shutil
import sys
from pathlib import Path

import pytest
from nesting.cli.terminal import typed


@pytest.mark.parametrize(
    ("called", "found", "name"),
    [
        (".venv/bin/ellwand", None, ".venv/bin/ellwand"),
        (".venv/bin/ellwand", "/usr/bin/ellwand", "ellwand"),
        ("cli/__main__.py", None, "ellwand"),
    ],
)
def test_the_program_is_named_so_that_the_shell_finds_it(monkeypatch, called, found, name):
    monkeypatch.setattr(sys, "argv", [called, "new"])
    monkeypatch.setattr(shutil, "which", lambda _: found)
    assert typed("lay", Path("jacket.toml")) == f"{name} lay jacket.toml"


def test_a_file_name_with_spaces_is_one_word_to_the_shell():
    file = Path("Älva's tunic.toml")
    assert shlex.split(typed("lay", file))[-2:] == ["lay", "Älva's tunic.toml"]
