"""Where text goes."""

from rich.console import Console


def console() -> Console:
    """Plain text where output is no terminal; never narrower than a sheet."""
    made = Console(highlight=False)
    return made if made.is_terminal and made.width >= 80 else Console(highlight=False, width=120 if not made.is_terminal else 100)
