"""``ellwand new``: a project file to start from."""

from __future__ import annotations

from pathlib import Path

from nesting.errors import BadInput
from nesting.files.example import example_text
from nesting.files.results.writing import require_writable, write_atomically
from nesting.files.tables.toml_text import require_file_name

from .terminal import typed

__all__ = ["run"]

_WHAT = {"jacket": "a short lined jacket", "jacket-sizes": "a short lined jacket in six sizes"}


def run(file: Path, example: str = "jacket") -> None:
    """Write that example to `file`, which must not exist yet.

    Raises
    ------
    BadInput
        When there is something of that name already, or it is none for a file.
    EllwandError
        When there is no such example, or nothing can be written there.
    """
    require_file_name(file)
    if file.suffix != ".toml":
        file = file.with_name(file.name + ".toml")
    require_writable(file.parent, [file.name])
    text = example_text(example)
    if file.is_file() and file.read_bytes() == text.encode():
        print(f"{file} holds the example already.")
        return
    if file.exists() or file.is_symlink():
        raise BadInput.of(
            str(file), "There is a file of that name already; it was left as it is.", "Choose another name."
        )
    write_atomically(file, text.encode())
    what = _WHAT.get(example, example)
    print(f"{file} holds the example: {what}, for the wardrobe room of a village theatre.")
    print(f"Look at what it needs:  {typed('lay', file)}")
    print("Then change it into your own pattern; docs/project-file.md explains every line.")
