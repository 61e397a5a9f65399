"""Sixty mistakes that people make: each is told by its true cause, first; the page of them says the same."""

import pytest

from benchmarks.mistakes import SOUND, all_made, table
from nesting.files.project.reading import parse_project
from tests.documents.pages import marked

MADE = all_made()


def test_the_file_that_is_spoilt_is_good_before():
    assert [piece.name for piece in parse_project(SOUND).pieces] == ["back", "front", "tie"]


def test_there_are_sixty():
    assert len({one.name for one in MADE}) == 60


@pytest.mark.parametrize("one", MADE, ids=lambda one: one.name)
def test_the_cause_is_named_first(one):
    first = one.told[0]
    assert one.cause in first.what
    assert one.where in first.where


@pytest.mark.parametrize("one", MADE, ids=lambda one: one.name)
def test_a_mistake_is_told_in_few_lines_with_what_to_do(one):
    assert len(one.told) <= 3
    for mistake in one.told:
        assert str(mistake).isprintable()
        assert mistake.remedy.strip()


def test_the_page_says_what_the_program_says():
    assert marked("docs/mistakes.md", "mistakes").splitlines() == table(MADE)
