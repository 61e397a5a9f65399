"""Standard output and error that go on when their reader goes away."""

from __future__ import annotations

import io
import os
from typing import Any, TextIO

__all__ = ["PatientStream"]


class PatientStream:
    """Standard output or error that never stops the program.

    Where the reader goes away (``ellwand lay ... | head``) what is still written is dropped, and the work
    goes on; a letter that the terminal has no code for is shown as a question mark.

    Parameters
    ----------
    stream : file of text
    """

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    def write(self, text: str) -> int:
        """Write, or drop it where no one reads any more."""
        try:
            return self._stream.write(text)
        except BrokenPipeError:
            self._drop()
            return len(text)

    def flush(self) -> None:
        """Send on what was written."""
        try:
            self._stream.flush()
        except BrokenPipeError:
            self._drop()

    def _drop(self) -> None:
        """Let all that follows go nowhere, what Python still writes at its end included."""
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, self._stream.fileno())
        os.close(nowhere)
