"""``gantrywright open``: the drawing board in the browser."""

import argparse

from gantrywright.base.errors import GantrywrightError


def run(given: argparse.Namespace) -> int:
    """Serve the board until it is ended."""
    try:
        from gantrywright.board.serve import serve
    except ModuleNotFoundError as error:
        if (error.name or "").startswith("gantrywright"):
            raise
        raise GantrywrightError(
            f"the drawing board needs a package that is not installed: {error.name}; install again: pip install ."
        ) from error
    return serve(given.machine, host=given.host, port=given.port, browser=not given.no_browser)
