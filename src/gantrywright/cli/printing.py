"""Where text goes."""

import os
import re
import sys
from typing import Any, TextIO

from rich.console import Console

LEAST, MOST = 72, 120
"""Columns: narrower no table can be read, wider no line."""
_BLANKS = re.compile(r"[ ]+(?=(?:\x1b\[[0-9;]*m)*(?:\n|$))")


class Trimmed:
    """A file that takes whole lines and leaves out the blanks at their ends, with which tables are filled up."""

    def __init__(self, file: TextIO) -> None:
        self._file = file

    def write(self, text: str) -> int:
        """Write whole lines."""
        self._file.write(_BLANKS.sub("", text))
        return len(text)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._file, name)


def console() -> Console:
    """Plain text where output is no terminal; as wide as the terminal, or as ``COLUMNS`` says, within reason."""
    file: Any = Trimmed(sys.stdout)
    made = Console(file=file, highlight=False)
    said = os.environ.get("COLUMNS", "")
    width = int(said) if said.isdecimal() and int(said) else made.width if made.is_terminal else MOST
    return Console(file=file, highlight=False, width=min(max(width, LEAST), MOST))
