"""``ellwand compare`` with alternatives from the command line, and ``ellwand widths``."""

import signal

import nesting.cli.compare

from nesting.estimate.many.jobs import lay_figures


def test_widths_naps_and_spreads_are_compared_without_touching_the_file(ellwand):
    done = ellwand("compare", "tote.toml", "--width", "60", "--nap", "one way", "--spread", "main=open")
    assert done.returncode == 0, done.stderr
    for name in ("main 60 cm wide", "main one way", "main open"):
        assert f"'{name}'" in done.stdout
    assert "seam in the base" not in done.stdout  # the file's own, which was not asked for
    assert "+" in done.stdout  # more cloth than the plain version
    both = ellwand("compare", "tote.toml", "seam in the base", "--width", "60")
    assert "1 seam more" in both.stdout
    assert "main 60 cm wide" in both.stdout
    # The plain version and the narrow one were kept: only the seam is laid.
    assert both.stderr.count("first verified lay") == 1


def test_many_alternatives_go_below_each_other_and_stay_readable(ellwand):
    widths = [word for cm in range(50, 95, 5) for word in ("--width", str(cm))]
    done = ellwand("compare", "tote.toml", *widths, "--seconds", "0.1")
    assert done.returncode == 0, done.stderr
    assert done.stdout.count("pieces to cut") == 3
    assert "…" not in done.stdout


def test_the_plot_is_written_and_what_it_shows_is_said(ellwand):
    done = ellwand("widths", "tote.toml", "--from", "50", "--up-to", "100", "--every", "25", "--workers", "2")
    assert done.returncode == 0, done.stderr
    folder = ellwand.folder / "tote-widths"
    assert {path.name for path in folder.iterdir()} == {"tote-main-widths.pdf", "tote-main-widths.png"}
    assert "75 cm" in done.stdout
    assert "it falls to" in done.stdout
    assert "lengthwise fold" in done.stdout


def test_widths_that_make_no_sense_are_told(ellwand):
    done = ellwand("widths", "tote.toml", "--from", "100", "--up-to", "50")
    assert done.returncode == 2
    assert "They ask for no width" in done.stderr


def test_what_ctrl_c_ended_is_not_compared(ellwand, monkeypatch):
    def press_at_the_first_width(version, *, until, **options):
        if version.version == "main 90 cm wide":
            signal.raise_signal(signal.SIGINT)
            assert until.pressed
        return lay_figures(version, until=until, **options)

    monkeypatch.setattr(nesting.cli.compare, "lay_figures", press_at_the_first_width)
    widths = [word for cm in (95, 90, 85, 80) for word in ("--width", str(cm))]
    done = ellwand("compare", "tote.toml", *widths)
    assert done.returncode == 0, done.stderr
    assert "Enough: what was searched to the end is compared" in done.stderr
    assert "'main 95 cm wide'" in done.stdout
    assert "Not searched to the end, so not compared: 'main 90 cm wide'." in done.stdout
    assert "Not begun, as you ended it: 'main 85 cm wide', 'main 80 cm wide'." in done.stdout
    assert "main 90" not in done.stdout.partition("seams for folds")[0]


def test_it_is_said_which_cloth_was_meant_and_what_changes_nothing(ellwand):
    file = ellwand.folder / "tote.toml"
    text = file.read_text(encoding="utf-8").replace("cut = { main = 1 }", "cut = { main = 1, lining = 1 }")
    file.write_text(text + "\n[cloth.lining]\nwidth = 140\n", encoding="utf-8")
    done = ellwand("compare", "tote.toml", "--width", "100", "--width", "90", "--seconds", "0.1")
    assert done.returncode == 0, done.stderr
    assert "the first of the file is meant: 'main'. To name another: --width lining=100" in done.stderr
    assert "--width 100 is left out: it changes nothing" in done.stderr
    assert "main 90 cm wide" in done.stdout
    nothing = ellwand("compare", "tote.toml", "--width", "main=100")
    assert nothing.returncode == 2
    assert "there is nothing to compare" in nothing.stderr
