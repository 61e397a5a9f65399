"""``python -m nesting.cli``: the same as the command ``ellwand``."""

from .start import main

if __name__ == "__main__":
    main()
