"""Whatever stands in the file, reading it gives a project or mistakes told in full, never another error."""

import copy
import tomllib

from hypothesis import example, given
from hypothesis import strategies as st

from nesting.errors import BadInput
from nesting.files.project.reading import project_from_table
from nesting.project import Project
from tests.conftest import examples
from tests.files.conftest import DATA

GOOD = tomllib.loads((DATA / "waistcoat.toml").read_text(encoding="utf-8"))


def paths(table, before=()):
    """Every place in a table where something could be spoilt."""
    for key, value in table.items() if isinstance(table, dict) else enumerate(table):
        yield (*before, key)
        if isinstance(value, dict | list):
            yield from paths(value, (*before, key))


def problems_of(table):
    """What is wrong with the table; nothing when it is a project."""
    try:
        assert isinstance(project_from_table(table), Project)
    except BadInput as error:
        return error.mistakes
    return ()


values = st.recursive(
    st.none().map(lambda _: {})
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.dates()
    | st.text(max_size=12)
    | st.sampled_from(["A", "A B", "2 pairs", "pair", "hem", "main", "-1 cm", "3 m"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=4,
)


@examples(40)
@given(path=st.sampled_from(list(paths(GOOD))), value=values)
@example(path=("piece", "stay", "points", "C", 0), value=1.6911491483890915e-274)
def test_one_spoilt_value(path, value):
    table = copy.deepcopy(GOOD)
    place = table
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    for mistake in problems_of(table):
        assert all(part.isprintable() and part for part in (mistake.where, mistake.what, mistake.remedy))


def test_endless_number():
    table = copy.deepcopy(GOOD)
    table["cloth"]["main"]["width"] = 16**5000
    (mistake,) = problems_of(table)
    assert "'width' cannot be read" in mistake.what
