"""The commands, as a person types them: exit codes, what is printed, what is written, what is left alone."""

import csv
import json
import re
import signal
import subprocess

import pytest
from nesting.cli.progress import LayProgress
from pypdf import PdfReader

from tests.cli.running import PROGRAM, SMALL, ellwand, environment


def test_new_writes_the_example_and_never_over_a_file(tmp_path):
    first = ellwand("new", "mine.toml", cwd=tmp_path)
    assert first.returncode == 0
    written = (tmp_path / "mine.toml").read_text(encoding="utf-8")
    assert "[piece." in written
    assert ellwand("new", "mine.toml", cwd=tmp_path).returncode == 0  # the example still: nothing to lose
    (tmp_path / "mine.toml").write_text("mine now", encoding="utf-8")
    second = ellwand("new", "mine.toml", cwd=tmp_path)
    assert second.returncode == 2
    assert (tmp_path / "mine.toml").read_text(encoding="utf-8") == "mine now"


def test_new_writes_the_example_of_six_sizes_too(tmp_path):
    done = ellwand("new", "chorus", "--example", "jacket-sizes", cwd=tmp_path)
    assert done.returncode == 0
    assert "six sizes" in done.stdout
    assert '[size."104".piece]' in (tmp_path / "chorus.toml").read_text(encoding="utf-8")
    wrong = ellwand("new", "skirt.toml", "--example", "crinoline", cwd=tmp_path)
    assert wrong.returncode == 2
    assert "'jacket-sizes'" in wrong.stderr


def test_what_was_typed_is_repeated_in_part(tmp_path):
    (tmp_path / "tote.toml").write_text(SMALL, encoding="utf-8")
    long = "x" * 400
    for words in (("chart", "--width", long), ("compare", "--width", f"{long}=90"), ("lay", "--size", long)):
        command, *options = words
        done = ellwand(command, "tote.toml", *options, cwd=tmp_path)
        assert done.returncode == 2
        assert "x" * 81 not in done.stderr


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (".", "This is a folder."),
        ("", "This is a folder."),
        ("..", "This is a folder."),
        ("x" * 300, "the name is too long for a file"),
        ("caf\udce9", "cannot be printed"),
    ],
    ids=["here", "nothing", "above", "long", "no letters"],
)
def test_a_new_file_needs_a_name(tmp_path, name, told):
    done = ellwand("new", name, cwd=tmp_path)
    assert done.returncode == 2
    assert told in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_one_size_is_laid_alone_and_the_order_together(tote):
    sized = 'base_size = "S"\n' + SMALL.replace("\n[", "\n[order]\nsizes = { S = 1, L = 1 }\n\n[", 1)
    sized += "\n[size.L]\npiece.side.seam_allowance = 2\n"
    (tote / "tote.toml").write_text(sized, encoding="utf-8")
    asked = ellwand("lay", "tote.toml", "--size", "XL", "--seconds", "0.1", cwd=tote)
    assert asked.returncode == 2
    assert "It has: 'S', 'L'." in asked.stderr
    assert ellwand("lay", "tote.toml", "--size", "L", "--seconds", "0.2", cwd=tote).returncode == 0
    assert (tote / "tote-lay-L" / "tote.pdf").is_file()


def test_check_says_how_each_count_was_read(tote):
    done = ellwand("check", "tote.toml", "--no-sheet", cwd=tote)
    assert done.returncode == 0, done.stderr
    assert "1 pair" in done.stdout
    assert "1 on the fold" in done.stdout


def test_check_never_parts_a_number_from_its_unit(tmp_path, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    ellwand("new", "jacket.toml", cwd=tmp_path)
    done = ellwand("check", "jacket.toml", "--no-sheet", cwd=tmp_path)
    _, _, table = done.stdout.partition("high")
    sizes, _, _ = re.sub(" +\n", "\n", table).partition("\n\n")
    assert len(re.findall(r"[\d.]+ cm +[\d.]+ cm\b", sizes)) == 11  # pieces, each wide and high
    assert "interfacing" in done.stdout


def test_check_reports_every_fault_at_once_and_exits_with_2(tote):
    faulty = SMALL.replace('"B C"', '"B X"', 1).replace("width = 100", "width = -1")
    (tote / "tote.toml").write_text(faulty, encoding="utf-8")
    done = ellwand("check", "tote.toml", "--no-sheet", cwd=tote)
    assert done.returncode == 2
    assert "'X'" in done.stderr
    assert "width" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_piece_wider_than_the_cloth_is_said_before_anything_is_written(tote):
    (tote / "tote.toml").write_text(SMALL.replace("width = 100", "width = 30"), encoding="utf-8")
    done = ellwand("lay", "tote.toml", cwd=tote)
    assert done.returncode == 2
    assert "across" in done.stderr
    assert [path.name for path in tote.iterdir()] == ["tote.toml"]


def test_lay_writes_its_sheets_and_says_what_to_buy(tote):
    done = ellwand("lay", "tote.toml", cwd=tote)
    assert done.returncode == 0, done.stderr
    folder = tote / "tote-lay"
    assert {path.suffix for path in folder.iterdir()} == {".pdf", ".png", ".svg", ".csv", ".json"}
    assert (folder / "tote.pdf").read_bytes().startswith(b"%PDF")
    rows = list(csv.DictReader((folder / "tote-cut-list.csv").read_text(encoding="utf-8").splitlines()))
    assert {(row["piece"], row["asked"], row["placed"]) for row in rows} == {
        ("side", "2", "2"),
        ("base", "1", "1"),
    }
    whole = json.loads((folder / "tote-lay.json").read_text(encoding="utf-8"))
    (cloth,) = whole["cloths"]
    assert f"{cloth['to_buy_mm'] / 1000:.2f} m" in done.stdout


def test_compare_says_before_any_search_what_does_not_fit(tote):
    narrow = '[alternative."remnant"]\ncloth.main.width = 30\n'
    (tote / "tote.toml").write_text(SMALL + narrow, encoding="utf-8")
    done = ellwand("compare", "tote.toml", "--seconds", "3600", cwd=tote)
    assert done.returncode == 2
    assert "alternative 'remnant', piece 'side' in cloth 'main'" in done.stderr


def test_no_room_to_spare_is_said_alike_on_screen_and_on_the_sheets(tote):
    (tote / "tote.toml").write_text(SMALL.replace("price = 12", "step = 0.1"), encoding="utf-8")
    done = ellwand("lay", "tote.toml", "--seconds", "0.1", cwd=tote)
    pages = [page.extract_text() for page in PdfReader(tote / "tote-lay" / "tote.pdf").pages]
    on_lay = next(page for page in pages if page.startswith("canvas: the lay"))
    for said in (done.stdout, pages[0], on_lay):
        assert re.search(r"No room to spare: .* left over\.", said)
    told = json.loads((tote / "tote-lay" / "tote-lay.json").read_text(encoding="utf-8"))
    assert told["cloths"][0]["no_room_to_spare"] is True


def test_a_dot_in_the_file_name_stays_in_the_names_of_the_sheets(tote):
    (tote / "tote.toml").rename(tote / "tote.v2.toml")
    assert ellwand("lay", "tote.v2.toml", cwd=tote).returncode == 0
    assert {path.name for path in (tote / "tote.v2-lay").iterdir()} == {
        "tote.v2.pdf",
        "tote.v2-main.png",
        "tote.v2-main.svg",
        "tote.v2-cut-list.csv",
        "tote.v2-lay.json",
    }


def test_the_same_lay_again_writes_the_same_bytes_and_keeps_no_copies(tote):
    for _ in range(2):
        assert ellwand("lay", "tote.toml", cwd=tote).returncode == 0
    assert not list((tote / "tote-lay").glob("*earlier*"))


def test_another_lay_keeps_the_earlier_sheets(tote):
    ellwand("lay", "tote.toml", cwd=tote)
    before = (tote / "tote-lay" / "tote.pdf").read_bytes()
    (tote / "tote.toml").write_text(SMALL.replace("[44, 38]", "[46, 38]"), encoding="utf-8")
    ellwand("lay", "tote.toml", cwd=tote)
    assert (tote / "tote-lay" / "tote-earlier-1.pdf").read_bytes() == before
    assert (tote / "tote-lay" / "tote.pdf").read_bytes() != before


def test_compare_sets_the_fold_against_the_seam(tote):
    done = ellwand("compare", "tote.toml", cwd=tote)
    assert done.returncode == 0, done.stderr
    assert "seam in the base" in done.stdout
    assert "base, middle (main)" in done.stdout
    assert "1 seam more" in done.stdout


@pytest.mark.parametrize("command", ["lay", "compare"])
def test_an_unknown_alternative_is_answered_with_the_known_ones(tote, command):
    option = ["--alternative"] if command == "lay" else []
    done = ellwand(command, "tote.toml", *option, "cape", cwd=tote)
    assert done.returncode == 2
    assert "seam in the base" in done.stderr


@pytest.fixture
def long_search(tote):
    """Many pieces, of which no search comes to an end by itself, and a lining after them."""
    text = SMALL.replace("cut = { main = 2 }", "cut = { main = 14, lining = 2 }")
    text += '\n[cloth.lining]\nname = "sateen"\nwidth = 140\n'
    (tote / "tote.toml").write_text(text, encoding="utf-8")
    return tote


def test_ctrl_c_keeps_the_best_so_far_and_does_not_search_on(long_search):
    running = subprocess.Popen(
        [*PROGRAM, "lay", "tote.toml", "--seconds", "3600"],
        cwd=long_search,
        env=environment(long_search),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        # A shell that runs things in the background has them ignore Ctrl-C.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    )
    assert running.stderr is not None
    for line in running.stderr:
        if "first verified lay" in line:
            break
    running.send_signal(signal.SIGINT)
    out, err = running.communicate()
    assert running.returncode == 0, err
    assert "Enough" in err
    assert "sateen" in out
    assert (long_search / "tote-lay" / "tote.pdf").exists()


def test_ctrl_c_ends_a_comparison_and_concludes_nothing_from_unfinished_lays(long_search, monkeypatch):
    tell = LayProgress.tell

    def pressed_at_the_first_lay(shown, event):
        tell(shown, event)
        if not shown.until.pressed:
            signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(LayProgress, "tell", pressed_at_the_first_lay)
    done = ellwand("compare", "tote.toml", "--seconds", "3600", cwd=long_search)
    assert done.returncode == 0, done.stderr
    assert "Enough" in done.stderr
    assert "'plain' was not searched to the end, so nothing can be compared with it." in done.stdout
    assert "Not begun, as you ended it: 'seam in the base'." in done.stdout
    assert "buy" not in done.stdout
    assert not (long_search / "tote-lay").exists()


def test_check_tells_the_size_of_each_piece_as_drawn(tote):
    done = ellwand("check", "tote.toml", "--no-sheet", cwd=tote)
    assert re.search(r"44 cm +42 cm", done.stdout)
    assert re.search(r"15 cm +36 cm", done.stdout)


def test_a_folder_that_cannot_be_is_said_before_the_search(tote):
    (tote / "sheets").write_text("a file", encoding="utf-8")
    done = ellwand("lay", "tote.toml", "--to", "sheets", "--seconds", "3600", cwd=tote)
    assert done.returncode == 2
    assert "sheets is a file, not a folder" in done.stderr


def test_a_missing_file_is_a_plain_message(tmp_path):
    done = ellwand("lay", "nowhere.toml", cwd=tmp_path)
    assert done.returncode == 2
    assert "nowhere.toml" in done.stderr
    assert "Traceback" not in done.stderr


def test_faults_of_stripes_are_told_together_and_nothing_is_written(tmp_path):
    matches = '[[match]]\nname = "ends"\npoints = { side = "A", base = "E" }\n'
    matches += '[[match]]\nname = "lid"\npoints = { lid = "A" }\n'
    text = SMALL.replace("price = 12", "repeat = { across = 120 }")
    (tmp_path / "tote.toml").write_text(text + matches, encoding="utf-8")
    done = ellwand("lay", "tote.toml", cwd=tmp_path)
    assert done.returncode == 2
    told = " ".join(done.stderr.split())
    assert "more than the usable width of the cloth" in told
    assert "no notch, mark or point 'E'" in told
    assert "There is no piece 'lid'" in told
    assert "Traceback" not in told
    assert [path.name for path in tmp_path.iterdir()] == ["tote.toml"]
