"""``ellwand shopping`` as a person types it."""

from tests.cli.running import SMALL


def test_the_list_is_printed_and_written_in_three_forms(ellwand):
    done = ellwand("shopping", "tote.toml")
    assert done.returncode == 0, done.stderr
    written = ellwand.folder / "tote-shopping"
    assert {path.name for path in written.iterdir()} == {
        "tote-shopping.pdf",
        "tote-shopping.txt",
        "tote-shopping.html",
    }
    assert done.stdout == (written / "tote-shopping.txt").read_text(encoding="utf-8")
    assert "of canvas, 100 cm wide: 1" in done.stdout


def test_two_projects_of_one_cloth_are_bought_together_and_nothing_is_laid_twice(ellwand):
    (ellwand.folder / "bag 2.toml").write_text(SMALL.replace("tote", "bag"), encoding="utf-8")
    done = ellwand("shopping", "tote.toml", "bag 2.toml", "--to", "out")
    assert done.returncode == 0, done.stderr
    assert "each bought by itself: tote" in done.stdout
    # Both have the same pieces on the same cloth: the second is taken from what was kept of the first.
    assert done.stderr.count("first verified lay") == 1
    again = ellwand("shopping", "tote.toml", "bag 2.toml", "--to", "out")
    assert again.stdout == done.stdout
    assert "first verified lay" not in again.stderr
    afresh = ellwand("shopping", "tote.toml", "--afresh")
    assert afresh.stderr.count("first verified lay") == 1


def test_the_faults_of_all_files_are_told_at_once_and_nothing_is_written(ellwand):
    (ellwand.folder / "bad.toml").write_text(SMALL.replace("width = 100", "width = -1"), encoding="utf-8")
    done = ellwand("shopping", "bad.toml", "missing.toml", "tote.toml")
    assert done.returncode == 2
    assert "width" in done.stderr
    assert "missing.toml" in done.stderr
    assert sorted(path.name for path in ellwand.folder.iterdir()) == ["bad.toml", "tote.toml"]


def test_the_version_is_told(ellwand):
    done = ellwand("--version")
    assert done.returncode == 0
    assert done.stdout.startswith("ellwand ")
