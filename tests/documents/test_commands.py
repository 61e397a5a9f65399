"""What the documents tell a person to type is there; and what there is to type is told, option by option."""

import importlib.util
import re
import shlex
import tomllib
from enum import StrEnum
from typing import get_args, get_type_hints

import pytest
import typer
from nesting.cli import main
from nesting.cli.in_hand import NOT_ENOUGH_CLOTH
from nesting.cli.start import STOPPED

from tests.documents.pages import PAGES, ROOT, in_code, listings, page, rows, section

GROUP = typer.main.get_command(main.app)
COMMANDS = GROUP.commands
TOLD = page("docs/commands.md")
OF_ALL = {"--help", "--version"}
OF_OTHERS = {"--quiet", "--editable", "--dist"}
"""Options of pip and pytest, which the README types once."""
FOR_THE_PERSON = [
    f"docs/{link}"
    for link in re.findall(r"\]\(([a-z-]+\.md)\)", page("docs/README.md").partition("\nFor programs")[0])
]


def options_of(name):
    return {param.opts[0]: param for param in COMMANDS[name].params if param.param_type_name == "option"}


def choices_of(command, name):
    """The words that an option takes, where it takes only some."""
    within = [get_type_hints(getattr(main, command))[name]]
    while within:
        hint = within.pop()
        if isinstance(hint, type) and issubclass(hint, StrEnum):
            return list(hint)
        within += get_args(hint)
    return []


def told_options():
    """(option, metavar, command, words) of every row of the tables of options."""
    for cells in rows(TOLD):
        if cells[0].startswith("`--"):
            option, _, metavar = cells[0].strip("`").partition(" ")
            for command in in_code(cells[1]):
                yield option, metavar, command, cells[2]


def typed():
    """Every command line that stands in a document, with the page."""
    for name in PAGES:
        lines = [line for block in listings(page(name), "sh") for line in re.split(r"\n|&&", block)]
        for line in (*lines, *in_code(page(name))):
            words = line.split("#")[0].strip()
            if re.match(r"(\S*/)?ellwand ", words):
                yield name, words


def test_every_option_of_every_command_is_told_and_no_other():
    told = {(command, option) for option, _, command, _ in told_options()}
    there = {(command, option) for command in COMMANDS for option in options_of(command)}
    assert told == there


def test_what_is_told_of_an_option_is_so():
    for option, metavar, command, words in told_options():
        param = options_of(command)[option]
        choices = choices_of(command, param.name)
        # A choice of words has no name for its value on the terminal: it lists them.
        assert metavar == ("" if param.is_flag else metavar if choices else param.metavar), (command, option)
        assert all(choice in words for choice in choices), (command, option)
        assert param.multiple is ("several times for several" in words), (command, option)


def test_every_command_is_told_with_what_it_is_given():
    given = dict(cells[0].strip("`").split(" ", 1) for cells in rows(section(TOLD, "What each does")))
    assert list(given) == list(COMMANDS)
    for name, words in given.items():
        arguments = [param for param in COMMANDS[name].params if param.param_type_name == "argument"]
        want = [f"{one.metavar} ..." if one.nargs == -1 else one.metavar for one in arguments]
        assert words == " ".join(want)
    # The README tells the same in short, command for command.
    short = rows(section(page("README.md"), "The commands in short"))
    assert {cells[0].strip("`").split()[1] for cells in short} == set(COMMANDS)


def test_every_exit_code_is_told():
    told = {int(cells[0]) for cells in rows(section(TOLD, "What it ends with"))}
    code = (ROOT / "cli" / "main.py").read_text(encoding="utf-8")
    assert told == {
        0,
        NOT_ENOUGH_CLOTH,
        STOPPED,
        *map(int, re.findall(r"(?:sys\.exit\(|return )(\d+)", code)),
    }


@pytest.mark.parametrize(("name", "line"), list(typed()))
def test_every_command_line_can_be_typed(name, line):
    command, *words = [word for word in shlex.split(line)[1:] if word != "..."]
    if command in {"COMMAND", *OF_ALL}:
        return
    assert command in COMMANDS
    if words:
        with COMMANDS[command].make_context(command, words) as context:
            assert context.params  # every option is known, and its value of the right kind


@pytest.mark.parametrize("name", ["README.md", *FOR_THE_PERSON])
def test_every_option_that_is_named_exists(name):
    """On the pages for the person at the table; others tell of other programs too."""
    options = set(re.findall(r"(?<![-\w])(--[a-z][a-z-]+)", page(name)))
    known = {option for command in COMMANDS for option in options_of(command)}
    assert options <= known | OF_ALL | OF_OTHERS


@pytest.mark.parametrize("name", PAGES)
def test_every_benchmark_that_is_named_exists(name):
    modules = set(re.findall(r"python -m (benchmarks\.[a-z_]+)", page(name)))
    assert [one for one in modules if importlib.util.find_spec(one) is None] == []


def test_every_extra_that_is_named_exists():
    extras = tomllib.loads(page("pyproject.toml"))["project"]["optional-dependencies"]
    named = {one for name in PAGES for one in re.findall(r"(?:ellwand|\.)\[([a-z]+)\]'", page(name))}
    assert {"test", "distributed"} <= named <= set(extras)
