"""``python -m cli``: the same as the command ``ellwand``."""

from cli.main import main

main()
