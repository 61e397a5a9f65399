"""``ellwand lay`` on cloth in hand: yes with sheets, no with an answer, exit codes that tell them apart."""

import json

import pytest

from tests.cli.running import SMALL, ellwand

CUFF = """
[piece.cuff]
points = { A = [0, 0], B = [6, 0], C = [6, 40], D = [0, 40] }
cut = { main = "1 single" }
[piece.cuff.edges]
end = "A B"
right = "B C"
top = "C D"
left = "D A"

[[from_waste]]
name = "covered buttons"
cloth = "main"
round = 3
count = 4
"""


def tote_in_hand(length, more=""):
    return SMALL.replace("price = 12\n", f"in_hand = {length}\n{more}") + CUFF


@pytest.fixture
def folder(tmp_path):
    def write(text):
        (tmp_path / "tote.toml").write_text(text, encoding="utf-8")
        return tmp_path

    return write


def test_yes_with_sheets_and_what_is_left(folder):
    hole = 'flaws = [ { name = "moth hole", along = [20, 24], across = [10, 14] }, '
    hole += '{ name = "stain", along = [40, 41], across = [30, 31], keep_off = "1 cm" } ]\n'
    where = folder(tote_in_hand(160, hole))
    done = ellwand("lay", "tote.toml", cwd=where)
    assert done.returncode == 0, done.stderr
    assert "It all goes on" in done.stdout
    assert "all 4 come out of the waste" in done.stdout
    written = {path.name for path in (where / "tote-lay").iterdir()}
    assert {"tote.pdf", "tote-main.png", "tote-main-left.png", "tote-lay.json"} <= written
    (cloth,) = json.loads((where / "tote-lay" / "tote-lay.json").read_text(encoding="utf-8"))["cloths"]
    assert (cloth["in_hand"], cloth["to_buy_mm"], cloth["cost"]) == (True, 0.0, 0.0)
    blocked, stain = cloth["cloth"]["remnants"][0]["blocked"]
    assert (blocked["name"], blocked["outline_mm"][0]) == ("moth hole", [200.0, 100.0])
    assert (blocked["keep_off_mm"], stain["keep_off_mm"]) == (5.0, 10.0)  # 5 mm where nothing is said
    (buttons,) = cloth["left"]["from_waste"]
    assert (buttons["placed"], len(buttons["outlines_mm"])) == (4, 4)


def test_no_with_what_would_make_it_go(folder):
    where = folder(
        tote_in_hand(54).replace("[piece.cuff.edges]", "may_be_left_off = true\n[piece.cuff.edges]")
    )
    done = ellwand("lay", "tote.toml", cwd=where)
    assert done.returncode == 3, done.stderr
    assert "It does not all go on" in done.stdout
    assert "no sheets were written" in done.stdout
    assert [path.name for path in (where / "tote-lay").iterdir()] == ["tote-in-hand.json"]
    answer = json.loads((where / "tote-lay" / "tote-in-hand.json").read_text(encoding="utf-8"))
    assert answer["format"] == "ellwand-in-hand 1"
    assert not answer["cloths"][0]["goes_on"]
    assert answer["cloths"][0]["lacking_mm"] > 0
    (told,) = answer["answers"]
    assert {one["what"] for one in told["changes"]} >= {"turn 'cuff' across the grain"}
    assert [one["what"] for one in told["left_off"]] == ["leave off 'cuff'"]


CALICO = '\n[cloth.calico]\nname = "calico"\nwidth = 100\nprice = 3\n'


def test_one_cloth_too_short_leaves_the_sheets_of_the_others(folder, quick_pdf):
    text = tote_in_hand(54).replace("cut = { main = 2 }", "cut = { main = 2, calico = 2 }") + CALICO
    where = folder(text)
    done = ellwand("lay", "tote.toml", "--seconds", "0.1", cwd=where)
    assert done.returncode == 3, done.stderr
    written = {path.name for path in (where / "tote-lay").iterdir()}
    assert {"tote-in-hand.json", "tote.pdf", "tote-calico.png", "tote-cut-list.csv"} <= written
    assert not any("main" in name for name in written)
    (cloth,) = json.loads((where / "tote-lay" / "tote-lay.json").read_text(encoding="utf-8"))["cloths"]
    assert cloth["cloth"]["key"] == "calico"
    short, side, base, cuff = (
        next(line.split() for line in done.stdout.splitlines() if words in line.split())
        for words in ("canvas", "side", "base", "cuff")
    )
    assert "too" in short  # how much is lacking, in the place of the length of a lay
    assert [line[-5:] for line in (side, base, cuff)] == [
        ["2", *"––––"],
        ["1", *"––––"],
        ["1", *"––––"],
    ]
    assert "canvas is not in these sheets: there is too little of it" in written_notes(where)
    assert "leave off" not in done.stdout
    assert "may_be_left_off = true" in done.stdout


def written_notes(where):
    return json.loads((where / "tote-lay" / "tote-lay.json").read_text(encoding="utf-8"))["notes"]


def test_one_cloth_is_laid_alone(folder, quick_pdf):
    text = tote_in_hand(54).replace("cut = { main = 2 }", "cut = { main = 2, calico = 2 }") + CALICO
    where = folder(text)
    done = ellwand("lay", "tote.toml", "--cloth", "calico", "--seconds", "0.1", cwd=where)
    assert done.returncode == 0, done.stderr
    assert "calico" in done.stdout
    assert "canvas is not in these sheets: it was not asked for" in done.stdout
    assert (where / "tote-lay-calico" / "tote-calico.png").exists()
    unknown = ellwand("lay", "tote.toml", "--cloth", "silk", "--cloth", "calico", cwd=where)
    assert unknown.returncode == 2
    assert "There is no cloth 'silk'." in unknown.stderr
    assert "Pieces are cut from 'main', 'calico'." in unknown.stderr


def test_remnants_each_get_a_lay(folder):
    remnants = """
[[cloth.main.remnant]]
name = "long piece"
length = 60
[[cloth.main.remnant]]
name = "sleeve end"
length = 46
width = 70
"""
    where = folder(SMALL.replace("price = 12\n", "") + CUFF + remnants)
    done = ellwand("lay", "tote.toml", cwd=where)
    assert done.returncode == 0, done.stderr
    assert "canvas, long piece: It all goes on" in done.stdout
    assert "canvas, sleeve end: It all goes on" in done.stdout
    assert (where / "tote-lay" / "tote-main sleeve end.png").exists()


def test_what_is_wrong_is_told_at_once_and_nothing_is_written(folder):
    more = "flaws = [ { along = [150, 170] } ]\ncut_away = [ { along = [9, 3] } ]\n"
    where = folder(tote_in_hand(160, more))
    done = ellwand("lay", "tote.toml", cwd=where)
    assert done.returncode == 2
    assert "cut_away 1" in done.stderr
    assert not (where / "tote-lay").exists()


def test_a_piece_larger_than_the_cloth_is_told_before_any_search(folder):
    where = folder(tote_in_hand(30))
    for command in ("check", "lay"):
        done = ellwand(command, "tote.toml", cwd=where)
        assert done.returncode == 2
        assert "the cloth in hand gives 26 cm by 98 cm to lay on" in done.stderr
    assert not (where / "tote-lay").exists()


def test_compare_says_which_version_goes_on(folder):
    longer = '\n[alternative."the other curtain"]\ncloth.main.in_hand = 160\n'
    where = folder(tote_in_hand(54) + longer)
    done = ellwand("compare", "tote.toml", "the other curtain", cwd=where)
    assert done.returncode == 0, done.stderr
    assert "'the other curtain' goes on the cloth in hand; 'plain' does not" in done.stdout


def test_what_is_in_hand_is_not_bought(folder):
    text = tote_in_hand(160).replace("cut = { main = 2 }", "cut = { main = 2, lining = 2 }")
    where = folder(text + '\n[cloth.lining]\nname = "sateen"\nwidth = 140\n')
    done = ellwand("shopping", "tote.toml", cwd=where)
    assert done.returncode == 0, done.stderr
    assert "sateen" in done.stdout
    assert "In hand: canvas: goes on" in done.stdout
    assert done.stdout.count("canvas") == 1
