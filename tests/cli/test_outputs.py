"""What is in the way of the sheets is told before anything is looked for; no two sheets have one name."""

import pytest

COMMANDS = {
    "lay": (["lay"], "tote-main.svg"),
    "pieces": (["pieces"], "tote-pieces.pdf"),
    "pictures of pieces": (["pieces", "--pictures"], "01-side.png"),
    "shopping": (["shopping"], "tote-shopping.html"),
    "chart": (["chart", "--width", "90"], "tote-chart.csv"),
    "widths": (["widths", "--from", "90", "--up-to", "90"], "tote-main-widths.png"),
}


@pytest.mark.parametrize(("command", "name"), COMMANDS.values(), ids=COMMANDS)
def test_a_folder_in_the_place_of_one_file(ellwand, command, name):
    (ellwand.folder / "sheets" / name).mkdir(parents=True)
    done = ellwand(*command, "tote.toml", "--to", "sheets")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        f"sheets/{name} was not written: there is a folder of that name. Nothing of this set was written. "
        "Move the folder away, or choose another with --to FOLDER.\n"
    )
    assert [path.name for path in (ellwand.folder / "sheets").iterdir()] == [name]


@pytest.mark.parametrize("command", [command for command, _ in COMMANDS.values()], ids=COMMANDS)
def test_a_link_that_leads_nowhere(ellwand, command):
    (ellwand.folder / "sheets").symlink_to("gone")
    done = ellwand(*command, "tote.toml", "--to", "sheets")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.endswith(
        "sheets is a link that leads nowhere. Mend the link, or choose another folder.\n"
    )


def test_cloths_that_are_called_like_sheets_of_others_keep_their_own(ellwand, quick_pdf):
    file = ellwand.folder / "tote.toml"
    text = file.read_text(encoding="utf-8").replace("price = 12", "in_hand = 160")
    text = text.replace("cut = { main = 1 }", "cut = { main = 1, main-left = 1 }")
    file.write_text(text + "\n[cloth.main-left]\nwidth = 100\n", encoding="utf-8")
    done = ellwand("lay", "tote.toml", "--seconds", "0.1")
    assert done.returncode == 0, done.stderr
    pictures = {path.name for path in (ellwand.folder / "tote-lay").glob("*.png")}
    assert pictures == {"tote-main.png", "tote-main-left.png", "tote-main-left-2.png"}
    one = ["--cloth", "main-left", "--cloth", "main-left"]  # twice is once
    assert ellwand("lay", "tote.toml", "--seconds", "0.1", *one).returncode == 0
    (picture,) = (ellwand.folder / "tote-lay-main-left").glob("*.png")
    assert picture.name == "tote-main-left-2.png"  # called the same, whatever else is laid
