"""The meeting of pattern and cloth: from what is wanted to a verified lay. Its data: `lay`, `left`."""
