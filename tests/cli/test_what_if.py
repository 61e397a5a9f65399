"""``ellwand compare`` with alternatives from the command line, and ``ellwand widths``."""


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
