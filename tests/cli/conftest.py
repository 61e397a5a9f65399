"""The program in a folder of its own, with a cache of its own."""

from functools import partial

import nesting.cli.sheets
import pytest

from tests.cli import running


@pytest.fixture
def tote(tmp_path):
    """A folder that holds ``tote.toml``."""
    (tmp_path / "tote.toml").write_text(running.SMALL, encoding="utf-8")
    return tmp_path


@pytest.fixture
def ellwand(tote):
    """Runs commands in that folder, in this process; the folder is ``ellwand.folder``."""
    run = partial(running.ellwand, cwd=tote)
    run.folder = tote
    return run


@pytest.fixture
def alone(tote):
    """Runs commands in that folder, each in a process of its own."""
    return partial(running.alone, cwd=tote)


@pytest.fixture
def quick_pdf(monkeypatch):
    """A lay's pages are not drawn, where something else is looked at."""
    monkeypatch.setattr(nesting.cli.sheets, "pdf_bytes", lambda result, page: b"not looked at")
