"""The examples that ship with the program."""

from __future__ import annotations

from importlib import resources

from nesting.errors import EllwandError
from nesting.lettering import quoted

__all__ = ["example_names", "example_text"]

_FOLDER = "examples"


def example_names() -> tuple[str, ...]:
    """Names of the examples, in the order of the alphabet."""
    folder = resources.files("nesting.files") / _FOLDER
    if not folder.is_dir():
        return ()
    return tuple(sorted(f.name.removesuffix(".toml") for f in folder.iterdir() if f.name.endswith(".toml")))


def example_text(name: str = "jacket") -> str:
    """The project file of that example.

    Raises
    ------
    EllwandError
        When there is no example of that name.
    """
    if name not in example_names():
        known = ", ".join(f"'{known}'" for known in example_names()) or "none"
        raise EllwandError(f"There is no example {quoted(name)}. The examples are: {known}.")
    return (resources.files("nesting.files") / _FOLDER / f"{name}.toml").read_text(encoding="utf-8")
