"""The program as a person runs it: in a folder of its own, with a cache of its own."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

import nesting
from tests.cli.test_commands import SMALL

# Programs that tests start are this tree's, wherever another one is installed.
os.environ["PYTHONPATH"] = str(Path(nesting.__file__).parent.parent)


@pytest.fixture
def ellwand(tmp_path):
    """Runs the program in a folder that holds ``tote.toml``; its folder is ``ellwand.folder``."""
    (tmp_path / "tote.toml").write_text(SMALL, encoding="utf-8")
    environment = {**os.environ, "XDG_CACHE_HOME": str(tmp_path / "cache")}

    def run(*arguments, **options):
        return subprocess.run(
            [sys.executable, "-m", "nesting.cli", *map(str, arguments)],
            cwd=tmp_path,
            env=environment | options.pop("env", {}),
            capture_output=True,
            text=True,
            check=False,
            **options,
        )

    run.folder, run.environment = tmp_path, environment
    return run
