"""Files are written whole or not at all."""

import os
import tempfile
from pathlib import Path

from gantrywright.base.errors import Unwritable


def write_whole(path: Path, text: str) -> None:
    """Replace a file by a text in one step; what was there stays if anything fails.

    Raises:
        Unwritable: Disk full, no permission, folder missing ...; the old file is untouched.
    """
    beside = ""
    try:
        handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        if path.exists():
            os.chmod(beside, path.stat().st_mode & 0o777)
        os.replace(beside, path)
    except OSError as error:
        if beside:
            Path(beside).unlink(missing_ok=True)
        raise Unwritable(f"{path} could not be written ({error.strerror or error}); what was there before is untouched") from error


def write_new(path: Path, text: str) -> None:
    """Write a file that must not exist yet, with its folder; raises `Unwritable`."""
    if path.exists():
        raise Unwritable(f"{path} is there already and is left as it is")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Unwritable(f"{path.parent} could not be made ({error.strerror or error})") from error
    write_whole(path, text)
    os.chmod(path, 0o644)
