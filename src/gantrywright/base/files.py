"""Files are written whole or not at all."""

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from gantrywright.base.errors import Unwritable


def write_whole(path: Path, text: str) -> None:
    """Put a text in place of a file in one step; what was there stays if anything fails. Line ends stay as the file has them.

    Raises:
        Unwritable: Disk full, no permission, folder missing ...; the old file is untouched.
    """
    beside: Path | None = None
    if not path.parent.is_dir():
        raise Unwritable(f"{path} could not be written: there is no folder {path.parent}; make it first")
    there = path.exists()
    try:
        windows = there and b"\r\n" in path.read_bytes()
        raw = (text.replace("\n", "\r\n") if windows else text).encode("utf-8")
        handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".new", dir=path.parent)
        beside = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        if beside.read_bytes() != raw:
            raise OSError("the disk gave back another text than was written")
        if path.exists():
            beside.chmod(path.stat().st_mode & 0o777)
        os.replace(beside, path)
    except OSError as error:
        if beside is not None:
            with suppress(OSError):
                beside.unlink()
        left = "; it is as it was" if there else ""
        raise Unwritable(f"{path} could not be written ({error.strerror or error}){left}") from error


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
