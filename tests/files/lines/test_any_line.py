"""Whatever is done to the lines of a file, reading it gives a project or mistakes told in full."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from benchmarks.mistakes import SOUND
from nesting.errors import BadInput
from nesting.files.lines.names import UNDERLINED
from nesting.files.project.reading import parse_project
from tests.documents.test_project_file import WHERE

LINES = SOUND.split("\n")
SIGNS = st.sampled_from("\"'[]{}=,.#:; \\-+09aé−“１\t\x00\u00a0\u2028()/%€")
PLACES = st.integers(0, len(LINES) - 1)


def left_out(lines, at, _):
    return lines[:at] + lines[at + 1 :]


def doubled(lines, at, _):
    return lines[: at + 1] + lines[at:]


def moved_up(lines, at, _):
    return [lines[at], *lines[:at], *lines[at + 1 :]]


def cut_short(lines, at, _):
    return [*lines[:at], lines[at][: len(lines[at]) // 2], *lines[at + 1 :]]


def with_a_sign(lines, at, sign):
    middle = len(lines[at]) // 2
    return [*lines[:at], lines[at][:middle] + sign + lines[at][middle:], *lines[at + 1 :]]


def with_its_words_turned_round(lines, at, _):
    return [*lines[:at], " ".join(reversed(lines[at].split(" "))), *lines[at + 1 :]]


CHANGES = st.sampled_from([left_out, doubled, moved_up, cut_short, with_a_sign, with_its_words_turned_round])


@settings(max_examples=60, deadline=None)
@given(changes=st.lists(st.tuples(CHANGES, PLACES, SIGNS), min_size=1, max_size=3))
@example(changes=[(with_a_sign, LINES.index("[cloth.calico]"), ".")])
@example(changes=[(with_a_sign, LINES.index("width = 150"), "\x00")])
def test_spoilt_lines(changes):
    lines = LINES
    for change, at, sign in changes:
        lines = change(lines, min(at, len(lines) - 1), sign)
    try:
        parse_project("\n".join(lines))
    except BadInput as error:
        for mistake in error.mistakes:
            assert all(part.isprintable() and part for part in (mistake.where, mistake.what, mistake.remedy))
            assert not any(len(word) > 80 for word in str(mistake).split())


@pytest.mark.parametrize(
    ("line", "remedy"),
    [
        ("points.A = [0, 0", "Close it with ]"),
        ("points.A = [0,, 0]", "One is enough"),
        ("points.A = [.5, 0]", "Write 0.5."),
        ("points.A = [O, 0]", 'quotation marks: "O"'),
        ("points.A = [1O, 0]", "Write 10."),
        ("points.A = [007, 0]", "Write 7."),
        ("points.A == [0, 0]", "One is enough: points.A = [0, 0]"),
        ("points.A = [0, 0] # corner", ""),
        ("points.A [0, 0]", "points.A = [0, 0]"),
        ("points.A = [0, 0]]", "Leave it out."),
        ("points.A = [0, 0];", "Leave it out: points.A = [0, 0]"),
        ("points.A = [0, 0] corner", "put # before it"),
        ("points.A = [0, 0] # a “corner”", ""),
        ("points.A = [5 mm, 0]", '"5 mm"'),
        ('points.A = [1/8", 0]', '"1/8 in"'),
        ("points = { A = [0, 0], }", "Leave it out."),
        ('"points.A = [0, 0]', "Close it on the same line."),
        ("points.A = {0, 0}", "square brackets: [0, 0]"),
        ("points.A = [0, 0] points.Z = [1, 1]", "Begin a new line before 'points.Z'."),
        ("points A = [0, 0]", '"points A" = [0, 0]'),
    ],
)
def test_what_to_do_about_a_line(line, remedy):
    text = SOUND.replace("points.A = [0, 0]", line, 1)
    if not remedy:
        assert parse_project(text).pieces
        return
    with pytest.raises(BadInput) as caught:
        parse_project(text, source="tunic.toml")
    first = caught.value.mistakes[0]
    assert first.where.startswith("tunic.toml, line 18")
    assert remedy in first.remedy


@pytest.mark.parametrize(
    ("was", "line", "place"),
    [
        ("[cloth.main]", "[cloths.main]", "Did you mean 'cloth'?"),
        ("[cloth.calico]", "[calico]", "Write what it is before the name: [cloth.calico]."),
        ("[piece.tie]", "[piece.tie", "Write [piece.tie]."),
        ("[piece.tie]", "[piece.tie]]", "Write [piece.tie]."),
        ("[[piece.back.notches]]", "[[piece.back.notches]", "Write [[piece.back.notches]]."),
        ("[piece.tie]", "[piece.tie] # both", ""),
        ("[piece.tie]", "[piece.tie] both", "put # before it"),
        ("[piece.tie]", "[]", "Write for example [piece.back]."),
        ("[piece.tie]", "piece.tie", "Write [piece.tie]."),
        ("[cloth.main]", "[cloth]", "Write for example [cloth.main]."),
        ("[piece.tie.edges]\n", "", "Write it above them: [piece.tie.edges]."),
        ("[piece.back.edges]", "[back.edges]", "[piece.back]"),
    ],
)
def test_what_to_do_about_a_heading(was, line, place):
    text = SOUND.replace(was, line, 1)
    if not place:
        assert parse_project(text).pieces
        return
    with pytest.raises(BadInput) as caught:
        parse_project(text, source="tunic.toml")
    assert place in caught.value.mistakes[0].remedy


def test_braces_that_go_on_over_several_lines_are_read_on():
    points = "points = { A = [0, 0], B = [6, 0], C = [6, 80], D = [0, 80] }"
    broken = points.replace("], B", "],  # corner\n  B").replace(" }", ",\n}")
    with pytest.raises(BadInput) as caught:
        parse_project(SOUND.replace(points, broken), source="tunic.toml")
    (mistake,) = caught.value.mistakes
    assert mistake.what == "A brace { is not closed on the same line."


def test_a_comma_missing_at_the_end_of_a_line_of_a_long_list():
    one = 'darts = [ { name = "bust", legs = "low up", tip = "tip" } ]'
    long = (
        'darts = [\n { name = "bust", legs = "low up", tip = "tip" }\n { legs = "low up", tip = "tip" },\n]'
    )
    with pytest.raises(BadInput) as caught:
        parse_project(SOUND.replace(one, long), source="tunic.toml")
    (mistake,) = caught.value.mistakes
    assert mistake.what == "There is no comma at the end of this line."


@pytest.mark.parametrize(
    ("was", "becomes", "remedy"),
    [
        ("cut = { main = 2 }", "cut = { main: 2 }", "main = 2"),
        ("cut = { main = 2 }", "cut = { main 2 }", "main = 2"),
        ("cut = { main = 2 }", "cut = { 2 main }", "{ main = 2 }"),
        ("cut = { main = 2 }", "cut = [main = 2]", "braces"),
        ("{ main = 1, calico = 1 }", "{ main = 1; calico = 1 }", "Put a comma"),
        ("{ main = 1, calico = 1 }", "{ main = 1, calico = 1", "Close it with }"),
        ('"B b1 C", curve = "smooth"', '"B b1 C", smooth', 'Write curve = "smooth".'),
        ('"B b1 C", curve = "smooth"', '["B" "b1", "C"], curve = "smooth"', "Put one there."),
        ('"centre back" = "A B"', '"centre back" = "A, B"', 'spaces between: "A B"'),
        ('"centre back" = "A B"', '"centre back" = "A-B"', 'spaces between: "A B"'),
        ('"centre back" = "A B"', '"centre back = "A B"', '"centre back" = "A B"'),
        ('units = "cm"', "units: cm", "units = cm"),
        ("from_end = 30", "from end = 30", "Write from_end = 30."),
        ("on_fold = ", "on fold = ", "Write on_fold = "),
        ("points.b1 = [4.5, 70.5]", "b1 = [4.5, 70.5]", "Write points.b1"),
        ('hem = { through = "F A", allowance = 4 }', 'hem = "F A" smooth', 'curve = "smooth"'),
        ("on_fold = ", 'grian = "A B"\non_fold = ', "Did you mean 'grain'?"),
        ("width = 150", "width = 1.500,5", "point: 1500.5"),
        ("width = 150", 'width = "150" cm', 'width = "150 cm"'),
        ("width = 150", 'width = "150""', 'Write width = "150"'),
        ("width = 150", "width = 150\nname = 'Ann's cloth'", 'name = "Ann\'s cloth"'),
        ("width = 150", "width = 150\ntube = no", "Write false"),
    ],
)
def test_what_to_do_about_an_entry(was, becomes, remedy):
    with pytest.raises(BadInput) as caught:
        parse_project(SOUND.replace(was, becomes, 1))
    assert remedy in caught.value.mistakes[0].remedy


@pytest.mark.parametrize(
    "line",
    [
        "width = 00{0}",
        "width = {0}O",
        "price = {0} €",
        "width = {0},{0}",
        "width = 1.250,{0}",
        "points.A = [{0} {0}]",
        "points.A = {{ {0}, {0} }}",
        "width = {0} %",
        "width = .{0}",
        "cut = {{ {0} main }}",
    ],
)
def test_of_a_number_without_end_only_the_beginning_is_repeated(line):
    with pytest.raises(BadInput) as caught:
        parse_project(line.format("7" * 300), source="tunic.toml")
    told = str(caught.value.mistakes[0])
    assert "7" * 20 in told
    assert "7" * 81 not in told


def test_an_entry_far_to_the_right_is_told_like_any_other():
    """Three thousand spaces before it: a pattern that tries every way to share them out never ends."""
    with pytest.raises(BadInput) as caught:
        parse_project(f"{' ' * 3000}width = 1 b", source="tunic.toml")
    assert caught.value.mistakes[0].what == "There is 'b' after the value."


def test_every_entry_with_an_underline_is_known_to_those_who_judge_lines():
    underlined = {name for model in WHERE for name in model.model_fields if "_" in name}
    assert underlined == UNDERLINED
