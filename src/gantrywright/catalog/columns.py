"""How a field of a part record says what it holds: one definition for CSV columns, machine-file keys, schema and docs."""

from dataclasses import dataclass, fields
from typing import Annotated, Any, get_args, get_origin, get_type_hints


@dataclass(frozen=True, slots=True)
class Column:
    """One field of a part kind.

    Attributes:
        kind: A kind of quantity (``length``, ``mass`` ...), ``text``, ``flag``, ``count``, ``number``, ``rating``, ``static-rating``,
            ``phase-current``, ``size2``, ``size3``, or the words of a choice joined by ``/``.
        help: What it is, for the reference page and the schema.
        default: Text of the value taken when row and file are silent, with its band; empty means there is none.
        source: Source id or "common practice, no source" of the default.
        required: A row without it is refused.
        positive: 0 is refused too, of a kind that could be 0 elsewhere (of the kinds in ``ABOVE_ZERO`` it always is).
        most: Largest value, where there is one.
    """

    kind: str
    help: str
    default: str = ""
    source: str = ""
    required: bool = False
    positive: bool = False
    most: float | None = None

    @property
    def is_positive(self) -> bool:
        """Whether its amount is above zero in every part."""
        return self.kind in ABOVE_ZERO or self.positive or (self.required and self.kind in _AMOUNTS)


ABOVE_ZERO = frozenset(
    {
        "mass", "linear-mass", "density", "inertia", "pressure", "pressure-speed", "stiffness", "tilt-stiffness", "twist-stiffness",
        "area", "second-moment", "lead", "current", "resistance", "inductance", "frequency", "phase-current", "rating", "static-rating", "count",
    }
)  # fmt: skip
"""Kinds whose values are above zero in any part; the others may be zero but not below, save those with a sign."""
_AMOUNTS = frozenset({"length", "power", "voltage", "torque", "speed", "turn-speed"})


def columns_of(record: type) -> dict[str, Column]:
    """The columns of a part record in the order of its fields."""
    if record not in _READ:
        _READ[record] = _columns(record)
    return _READ[record]


_READ: dict[type, dict[str, Column]] = {}
"""Columns of the records that were asked for: reading type hints is slow."""


def _columns(record: type) -> dict[str, Column]:
    hints = get_type_hints(record, include_extras=True)
    return {field.name: column for field in fields(record) if (column := _column(hints[field.name])) is not None}


def _column(hint: Any) -> Column | None:
    if get_origin(hint) is Annotated:
        for extra in get_args(hint)[1:]:
            if isinstance(extra, Column):
                return extra
    return None
