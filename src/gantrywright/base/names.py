"""The nearest names to a name that was not found."""

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(name: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Up to ``most`` known names that look like ``name``, likeliest first; never one that is chosen for the user.

    Example:
        >>> nearest("acuracy", ["accuracy", "accel", "rapid"])
        ('accuracy',)
    """
    return tuple(get_close_matches(name, sorted(known), n=most, cutoff=0.6))


def nearest_sentence(name: str, known: Iterable[str]) -> str:
    """``"; nearest: a, b"`` or an empty text."""
    names = nearest(name, known)
    return f"; nearest: {', '.join(names)}" if names else ""
