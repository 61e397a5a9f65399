"""``python -m nesting.cli``: the same as the command ``ellwand``."""

from .main import main

main()
