"""Texts that say that something is not known, or not for sure."""

from collections.abc import Sequence
from functools import lru_cache

from gantrywright.base.errors import UnreadableText
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities.characters import plain
from gantrywright.base.spread import Spread


def is_unknown(text: str) -> bool:
    """Whether the builder says that a value is not known: no default is taken then."""
    return plain(text) == "unknown"


@lru_cache(maxsize=1024)
def words_in_doubt(text: str) -> tuple[str, ...]:
    """The words of ``"A or B or C"``, the likeliest first; a single word where there is no doubt."""
    return tuple(word.strip() for word in plain(text).split(" or "))


def choice(text: str, allowed: Sequence[str]) -> tuple[str, Spread | None]:
    """The word that is meant, and the spread over all words where the builder is in doubt.

    Example:
        >>> choice("fixed-supported or supported-supported", ["fixed-supported", "supported-supported", "fixed-fixed"])[0]
        'fixed-supported'

    Raises:
        UnreadableText: A word is not among those allowed, or stands twice.
    """
    words = words_in_doubt(text)
    for word in words:
        if word not in allowed:
            raise UnreadableText(f"{word!r} is none of {', '.join(allowed)}{nearest_sentence(word, allowed)}")
    if len(set(words)) < len(words):
        raise UnreadableText(f"{text!r} names a word twice; name each that it may be once, the likeliest first")
    if len(words) == 1:
        return words[0], None
    return words[0], Spread(0.0, 0.0, float(len(words) - 1), "choice", words)
