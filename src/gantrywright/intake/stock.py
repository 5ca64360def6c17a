"""The shop file beside a machine: pieces at hand, and which machine parts take them."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from math import dist
from pathlib import Path
from typing import Any

from gantrywright.base.errors import UnreadableText
from gantrywright.base.names import nearest_sentence
from gantrywright.intake.document import Document
from gantrywright.intake.layers import Node
from gantrywright.intake.tree import Entry

Tell = Callable[[str, str], None]

PLATE = "plate"
"""Part name of sheet and board."""

TOLERANCE = 1e-6
"""A piece may be this much too short (rounding of inch against mm), m."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One entry of the stock."""

    name: str
    file: str
    line: int
    fields: Mapping[str, Entry]
    of_part: Mapping[str, Entry]
    """Those of its fields that belong to its kind of part, for instance a measured resistance."""

    @property
    def path(self) -> str:
        """``stock.NAME``."""
        return f"stock.{self.name}"

    @property
    def count(self) -> int:
        """How many there are."""
        found = self.fields.get("count")
        return found.value if found is not None and isinstance(found.value, int) else 1

    def length(self, key: str = "length") -> float | None:
        """A length as measured, m."""
        found = self.fields.get(key)
        return float(found.value) if found is not None and found.value is not None else None

    @property
    def size(self) -> tuple[float, ...] | None:
        """Size of sheet and board, m."""
        found = self.fields.get("size")
        return tuple(found.value) if found is not None and found.value is not None else None


@dataclass(frozen=True, slots=True)
class Taker:
    """A part of the machine that takes from a piece."""

    path: str
    lengths: tuple[float, ...] | None
    """Lengths cut from bars; None: not known yet, then a whole piece."""
    area: float | None = None
    """Area cut from sheet."""


@dataclass(slots=True)
class Shop:
    """What the shop file says, for one reading of one machine."""

    document: Document | None = None
    node: Node = field(default_factory=Node)
    """Its tables, typed."""
    extra: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    lost: bool = False
    """Its file could not be read, which is told already: whatever it may hold is not missed."""
    tell: Tell = lambda path, message: None
    pieces: Mapping[str, Piece] = field(default_factory=dict)
    _takers: dict[str, list[Taker]] = field(default_factory=dict)

    @property
    def instruments(self) -> list[str] | None:
        """Names of the instruments; None where there is no shop file to look in."""
        return None if self.document is None else list(self.node.node("instrument") or ())

    def converter(self, currency: str) -> "Callable[[float, str], float]":
        """Converts a sum of money to one currency by the shop's rates."""
        shop = self.node.node("shop") or Node()
        home = shop.value("currency", currency)
        rates = {
            home: 1.0,
            **{name: entry.value for name, entry in (shop.node("rates") or Node()).items() if isinstance(entry.value, float)},
        }

        def convert(value: float, unit: str) -> float:
            own = unit.split("/")[0]
            if own == currency:
                return value
            if own not in rates or currency not in rates:
                lacking = own if own not in rates else currency
                raise UnreadableText(
                    f"is in {own}, the machine shows {currency}: there is no rate for {lacking}; write it under rates in [shop] of the shop file"
                )
            return value * rates[own] / rates[currency]

        return convert

    def piece(self, name: str) -> Piece | None:
        """A piece by name."""
        return self.pieces.get(name)

    def no_piece(self, name: str) -> str:
        """Sentence for a name that the stock has not."""
        if self.document is None:
            return f"no stock piece '{name}': there is no shop file beside this machine"
        return f"no stock piece '{name}' in {Path(self.document.path).name}{nearest_sentence(name, self.pieces)}"

    def take(self, piece: Piece, path: str, node: Node) -> None:
        """Note that a part takes a piece, and check that the piece is large enough."""
        self._takers.setdefault(piece.name, []).append(self._taker(piece, path, node))

    def _taker(self, piece: Piece, path: str, node: Node) -> Taker:
        lengths = _lengths(node)
        have = piece.length()
        if lengths and have is not None and max(lengths) > have + TOLERANCE:
            self.tell(path, f"needs {_mm(max(lengths))}, the piece '{piece.name}' is {_mm(have)} long")
        size, sheet = node.value("size"), piece.size
        if size is not None and sheet is not None and len(size) == len(sheet):
            short = [(a, b) for a, b in zip(sorted(size), sorted(sheet), strict=True) if a > b + TOLERANCE]
            if short:
                wanted, found = (" x ".join(_mm(v).removesuffix(" mm") for v in sorted(s, reverse=True)) for s in (size, sheet))
                self.tell(path, f"needs {wanted} mm, the piece '{piece.name}' is {found} mm")
            thick = min(size)
            return Taker(path, None, size[0] * size[1] * size[2] / thick if thick else None)
        return Taker(path, lengths if have is not None else None)

    def check_counts(self) -> None:
        """Tell of pieces that are taken more often than they are there."""
        for name, takers in self._takers.items():
            piece = self.pieces[name]
            needed = _pieces_needed(piece, takers)
            if needed > piece.count:
                have = f"there {'is' if piece.count == 1 else 'are'} {piece.count}"
                self.tell(takers[-1].path, f"takes stock '{name}', of which {have}; taken by {', '.join(t.path for t in takers)}")


def _lengths(node: Node) -> tuple[float, ...] | None:
    """Lengths that a rail or bar is put together from."""
    start, stop = node.value("from"), node.value("to")
    if isinstance(start, tuple) and isinstance(stop, tuple):
        return (dist(start, stop),)
    length = node.value("length")
    if not isinstance(length, float) or "face" not in node:
        return None
    joints = sorted(node.value("joined_at", ()) or ())
    return tuple(b - a for a, b in zip((0.0, *joints), (*joints, length), strict=True))


def _pieces_needed(piece: Piece, takers: list[Taker]) -> int:
    """Fewest pieces by length, longest first; sheets by area; everything else one a taker."""
    size, length = piece.size, piece.length()
    if size is not None:
        sheet = size[0] * size[1] * size[2] / min(size)
        areas = [taker.area for taker in takers]
        known = sum(area for area in areas if area is not None)
        return max(-int(-known * (1 - TOLERANCE) // sheet), 1) if sheet else 1
    if length is None:
        return len(takers)
    rests: list[float] = []
    whole = 0
    for wanted in sorted((n for taker in takers for n in taker.lengths or ()), reverse=True):
        fits = next((index for index, rest in enumerate(rests) if rest + TOLERANCE >= wanted), None)
        if fits is None:
            rests.append(length - wanted)
        else:
            rests[fits] -= wanted
    whole = sum(1 for taker in takers if taker.lengths is None)
    return len(rests) + whole


def _mm(value: float) -> str:
    return f"{value * 1e3:.5g} mm"
