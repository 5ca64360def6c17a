"""The nearest names to a name that was not found."""

from collections.abc import Iterable
from difflib import SequenceMatcher

ALIKE = 0.6
"""From this share of common letters on a name looks like another."""
FIRST_ALIKE = 0.75
"""The same of a name's first word alone, which says less."""


def nearest(name: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Up to ``most`` known names that look like ``name``, likeliest first; never one that is chosen for the user.

    A name of one word is also held against the first words of longer ones.

    Example:
        >>> nearest("acuracy", ["accuracy", "accel", "rapid"])
        ('accuracy',)
        >>> nearest("mapel", ["aspen", "maple-hard", "oak-white"])
        ('maple-hard', 'aspen')
    """
    matcher = SequenceMatcher()
    matcher.set_seq2(name)
    scored = []
    for other in sorted(known):
        whole = _alike(matcher, other, 0.0)
        first = other.partition("-")[0]
        start = _alike(matcher, first, FIRST_ALIKE) if "-" not in name and first != other else 0.0
        if whole >= ALIKE or start:
            scored.append((max(whole, start), whole, other))
    return tuple(other for _, _, other in sorted(scored, reverse=True)[:most])


def _alike(matcher: SequenceMatcher[str], other: str, least: float) -> float:
    """Share of letters that the names have in common; 0 where it is less than wanted."""
    matcher.set_seq1(other)
    if matcher.real_quick_ratio() < least or matcher.quick_ratio() < least:
        return 0.0
    ratio = matcher.ratio()
    return ratio if ratio >= least else 0.0


def nearest_sentence(name: str, known: Iterable[str]) -> str:
    """``"; nearest: a, b"`` or an empty text."""
    names = nearest(name, known)
    return f"; nearest: {', '.join(names)}" if names else ""
