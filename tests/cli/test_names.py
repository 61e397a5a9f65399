"""Long names, names from right to left, names of pictures: in files, on the terminal, on every sheet."""

import csv
import json

import pytest

from tests.cli.running import SMALL

TITLE, CLOTH, SIDE, BASE, SEAM = (
    "e\N{COMBINING ACUTE ACCENT}té קנבס כחול",
    "قماش قطني أزرق",
    "🧵🪡👗 外套底",
    "Baumwollsegeltuchgewebe" * 2,
    "תפר 🙂",
)


def test_every_command_takes_the_names_and_warns_of_nothing(ellwand):
    text = SMALL.replace("canvas", CLOTH).replace('"tote"', f'"{TITLE}"')
    text = text.replace("[piece.side", f'[piece."{SIDE}"').replace("[piece.base", f'[piece."{BASE}"')
    text = text.replace("piece.base.", f'piece."{BASE}".').replace("seam in the base", SEAM)
    (ellwand.folder / "tote.toml").write_text(text, encoding="utf-8")
    printed = {
        ("check",): (TITLE, SEAM),
        ("lay",): (CLOTH,),
        ("compare",): (SEAM,),
        ("shopping",): (TITLE, CLOTH),
        ("chart", "--width", "90"): (TITLE, CLOTH),
    }
    for (command, *options), names in printed.items():
        done = ellwand(command, "tote.toml", *options)  # a warning is an error here
        assert done.returncode == 0, done.stderr
        assert "Warning" not in done.stderr
        assert all(name in done.stdout for name in names)
    folder = ellwand.folder / "tote-lay"
    rows = list(csv.DictReader((folder / "tote-cut-list.csv").read_text(encoding="utf-8").splitlines()))
    assert {row["piece"] for row in rows} == {SIDE, BASE}
    assert json.loads((folder / "tote-lay.json").read_text(encoding="utf-8"))["title"] == TITLE


@pytest.mark.parametrize("stem", ["Élise's sac d'été (2)", "-תיק 👜"])
def test_files_may_be_called_anything(ellwand, stem):
    (ellwand.folder / "tote.toml").rename(ellwand.folder / f"{stem}.toml")
    done = ellwand("lay", "--", f"{stem}.toml")
    assert done.returncode == 0, done.stderr
    assert (ellwand.folder / f"{stem}-lay" / f"{stem}.pdf").read_bytes().startswith(b"%PDF")
    assert ellwand("shopping", "--", f"{stem}.toml").returncode == 0
    assert (ellwand.folder / f"{stem}-shopping" / f"{stem}-shopping.html").exists()


@pytest.mark.parametrize("command", ["lay", "shopping", "chart", "widths"])
def test_a_name_too_long_for_the_sheets_is_told_before_the_search(ellwand, command):
    (ellwand.folder / "tote.toml").rename(ellwand.folder / f"{'t' * 249}.toml")
    done = ellwand(command, f"{'t' * 249}.toml", "--seconds", "3600")
    assert done.returncode == 2
    assert "the name is too long for a file" in done.stderr
    assert len(list(ellwand.folder.iterdir())) == 1
