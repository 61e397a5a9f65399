import csv
import io
from dataclasses import replace

from nesting.files.results.cut_list import cut_list_csv


def rows(text):
    # Python's csv module reads RFC 4180; strict makes it refuse stray quotation marks.
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def test_one_row_for_each_piece_and_cloth(estimate):
    heading, *body = rows(cut_list_csv(estimate))
    assert heading[:8] == "cloth,piece,asked,placed,face up,face down,on the fold,how cut".split(",")
    assert heading[8:] == ["remark", "size", "garments"]
    cloth = 'damask, "old rose"'
    assert [row[:8] for row in body] == [
        [cloth, "front", "2", "2", "1", "1", "0", "1 pair"],
        [cloth, "back", "1", "1", "0", "0", "1", "1 on the fold"],
        [cloth, "welt", "1", "1", "1", "0", "0", "1 single"],
    ]
    assert "opened-out length" in body[2][8]


def test_lines_end_as_rfc_4180_asks(estimate):
    text = cut_list_csv(estimate)
    assert text.count("\r\n") == text.count("\n") == 4
    assert text.endswith("\r\n")
    assert '"damask, ""old rose"""' in text


def test_two_cloths_stand_one_under_the_other(estimate):
    twice = replace(estimate, estimates=estimate.estimates * 2)
    assert len(rows(cut_list_csv(twice))) == 1 + 2 * 3


def test_a_name_that_begins_like_a_formula_is_shown_as_text(estimate):
    cloth = replace(estimate.project.cloths["main"], name='=HYPERLINK("a")')
    (one,) = estimate.estimates
    project = replace(estimate.project, cloths={"main": cloth})
    spoilt = replace(estimate, project=project, estimates=(replace(one, lay=replace(one.lay, cloth=cloth)),))
    assert {row[0] for row in rows(cut_list_csv(spoilt))[1:]} == {'\'=HYPERLINK("a")'}
