"""Standard output and error that go on when they cannot be written."""

from __future__ import annotations

import io
import os
from typing import Any, TextIO

__all__ = ["PatientStream"]


class PatientStream:
    """Standard output or error that never stops the program.

    Where the reader goes away (``ellwand lay ... | head``) or the disk is full, what is still written is
    dropped, and the work goes on; a letter that the terminal has no code for is shown as a question mark.

    Parameters
    ----------
    stream : file of text or None
        None where the person has closed it: all goes nowhere.

    Attributes
    ----------
    trouble : str
        Why something was dropped that a person would miss; empty where nobody reads.
    """

    def __init__(self, stream: TextIO | None) -> None:
        self.trouble = ""
        self._stream = open(os.devnull, "w", encoding="utf-8") if stream is None else stream
        if isinstance(self._stream, io.TextIOWrapper):
            self._stream.reconfigure(errors="replace")

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    def write(self, text: str) -> int:
        """Write, or drop it where that cannot be."""
        try:
            return self._stream.write(text)
        except OSError as error:
            self._drop(error)
            return len(text)

    def flush(self) -> None:
        """Send on what was written."""
        try:
            self._stream.flush()
        except OSError as error:
            self._drop(error)

    def _drop(self, error: OSError) -> None:
        """Let all that follows go nowhere, what Python still writes at its end included."""
        if not isinstance(error, BrokenPipeError):
            self.trouble = self.trouble or error.strerror or str(error)
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, self._stream.fileno())
        os.close(nowhere)
