"""What the commands tell of results kept between runs."""

import pytest
from nesting.cli.kept import say_trouble

from nesting.files.results.kept import KeptResults


@pytest.mark.parametrize(
    ("damaged", "told"),
    [
        (0, ""),
        (1, "(A result kept from an earlier run was damaged; it was worked out anew.)\n"),
        (3, "(3 results kept from earlier runs were damaged; they were worked out anew.)\n"),
    ],
)
def test_what_was_damaged_is_told_once_at_the_end(tmp_path, capsys, damaged, told):
    store = KeptResults(tmp_path)
    for name in range(damaged):
        (tmp_path / f"{name}.json").write_text("[" * 200_000)
        assert store.get(str(name)) is None
    say_trouble(store)
    assert capsys.readouterr().err == told
