"""The one door: text and kind in, quantity out."""

from collections.abc import Mapping
from functools import lru_cache, partial

from gantrywright.base.errors import UnreadableText
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities.characters import plain
from gantrywright.base.quantities.compound import COMPOUND, Reader
from gantrywright.base.quantities.kinds import SCALARS
from gantrywright.base.quantities.quantity import Quantity
from gantrywright.base.quantities.scalar import part_band, read_band, read_scalar


def _read_scalar(text: str, unit: str | None = None, *, kind: str) -> Quantity:
    head, band = part_band(text)
    main = read_scalar(head, kind, unit)
    return Quantity(main.value, main.unit, read_band(band, main, kind) if band else None)


def _read_count(text: str, _: str | None = None) -> Quantity:
    number = read_scalar(text, "count").number
    if number[0] % number[1] or number[0] < 0:
        raise UnreadableText(f"{text!r}: a count is a whole number that is not negative, as in 4")
    return Quantity(number[0] // number[1])


READERS: Mapping[str, Reader] = {
    **{kind: partial(_read_scalar, kind=kind) for kind in SCALARS},
    **COMPOUND,
    "count": _read_count,
}
"""Every kind that `parse` reads."""


@lru_cache(maxsize=65536)
def parse(text: str, kind: str, unit: str | None = None) -> Quantity:
    """Read a text as a quantity of a kind. The same text and kind is read once a process.

    Args:
        text: As the builder wrote it: ``1-1/2"``, ``3 000 rpm``, ``250 N/um (100..400)``, ``40, 0, 780 mm``.
        kind: A scalar kind (``length``, ``force`` ... see `SCALARS`), or ``point``, ``pair``, ``vector`` (no unit), ``size2``, ``size3``,
            ``range`` (``range length`` where the kind is known), ``quantity`` (the unit says the kind), ``bolts``, ``phase-current``,
            ``rating``, ``static-rating``.
        unit: Serves numbers without a unit, where a table says it in its header; a machine file has no such unit.

    Returns:
        The value in SI with its unit as written and its spread.

    Raises:
        UnreadableText: What was read, why it is refused, and what to write.
        KeyError: There is no such kind.

    Example:
        >>> parse('1-1/2"', "length").value
        0.0381
        >>> parse("250 N/um (100..400)", "stiffness").spread
        Spread(low=100000000.0, typical=250000000.0, high=400000000.0, shape='band', choices=(), placed=False)
    """
    reader = READERS.get(kind)
    if reader is None:
        raise KeyError(f"no kind of quantity {kind!r}{nearest_sentence(kind, READERS)}")
    return reader(plain(text), unit)
