from pathlib import Path

import pytest

DATA = Path(__file__).parent.parent / "data"


@pytest.fixture
def waistcoat_text():
    """A good project file that uses every entry."""
    return (DATA / "waistcoat.toml").read_text(encoding="utf-8")
