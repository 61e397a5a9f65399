"""Each command in a process of its own ends, prints and writes as it does in this one."""

import pytest

from tests.cli.running import SMALL, alone, ellwand

COMMANDS = [
    ["new", "mine.toml"],
    ["check", "tote.toml"],
    ["lay", "tote.toml"],
    ["pieces", "tote.toml"],
    ["compare", "tote.toml"],
    ["shopping", "tote.toml"],
    ["chart", "tote.toml", "--width", "90", "--nap", "one way", "--workers", "1"],
    ["widths", "tote.toml", "--from", "90", "--up-to", "90", "--workers", "1"],
    ["check", "nowhere.toml"],
    ["--version"],
    ["lay", "tote.toml", "--sleeves", "2"],
]


def written(folder):
    """What lies in a folder besides the cache, byte by byte."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in files
        if path.relative_to(folder).parts[0] != "cache"
    }


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_a_command_does_the_same_in_a_process_of_its_own(tmp_path, command):
    done = []
    for run in (alone, ellwand):
        folder = tmp_path / run.__name__
        folder.mkdir()
        (folder / "tote.toml").write_text(SMALL, encoding="utf-8")
        done.append((run(*command, cwd=folder), written(folder)))
    (there, files_there), (here, files_here) = done
    assert there.returncode == here.returncode, there.stderr
    assert there.stdout == here.stdout
    assert files_there == files_here
