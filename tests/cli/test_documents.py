"""What the documents tell a person to type is there: every command and every option."""

import re
from pathlib import Path

import click
import pytest
import typer
from nesting.cli.main import app

ROOT = Path(__file__).parents[2]
GROUP = typer.main.get_command(app)


def known():
    with click.Context(GROUP) as context:
        commands = {name: GROUP.get_command(context, name) for name in GROUP.list_commands(context)}
    return {name: {text for p in command.params for text in p.opts} for name, command in commands.items()}


OF_ALL = {"--quiet", "--dist", "--help", "--version"}
"""Options of pip and pytest, and those that every command has."""


@pytest.mark.parametrize("page", ["README.md", "docs/before-the-shop.md", "docs/table.md"])
def test_commands_and_options_exist(page):
    text = (ROOT / page).read_text(encoding="utf-8")
    commands = known()
    typed = set(re.findall(r"ellwand (?!by\b)([a-z]+)\b", text))
    assert typed
    assert typed <= set(commands)
    options = set(re.findall(r"(?<![-\w`])`?(--[a-z][a-z-]+)", text)) - OF_ALL
    assert options <= {option for ones in commands.values() for option in ones}
