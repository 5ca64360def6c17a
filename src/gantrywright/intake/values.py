"""One raw value of a TOML file to the value that its key wants."""

from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import lru_cache
from math import isfinite, sqrt
from typing import TYPE_CHECKING, Any

from gantrywright.base.errors import UnreadableText
from gantrywright.base.names import nearest_sentence
from gantrywright.base.quantities import choice, guess_kind, is_unknown, parse, show
from gantrywright.base.quantities.kinds import SCALARS
from gantrywright.base.spread import Origin, Spread
from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.intake.grammar.shape import GEOMETRY, Key
from gantrywright.intake.tree import Entry

if TYPE_CHECKING:
    from gantrywright.base.units import Array

DIRECTIONS: dict[str, tuple[float, float, float]] = {
    "left": (-1.0, 0.0, 0.0), "right": (1.0, 0.0, 0.0), "front": (0.0, -1.0, 0.0), "back": (0.0, 1.0, 0.0),
    "bottom": (0.0, 0.0, -1.0), "top": (0.0, 0.0, 1.0), "-x": (-1.0, 0.0, 0.0), "+x": (1.0, 0.0, 0.0), "x": (1.0, 0.0, 0.0),
    "-y": (0.0, -1.0, 0.0), "+y": (0.0, 1.0, 0.0), "y": (0.0, 1.0, 0.0), "-z": (0.0, 0.0, -1.0), "+z": (0.0, 0.0, 1.0),
    "z": (0.0, 0.0, 1.0),
}  # fmt: skip
FACES = ("left", "right", "front", "back", "bottom", "top", "outer", "inner", "-x", "+x", "-y", "+y", "-z", "+z")
TEXTS = frozenset({"text", "words", "ref"})
POSES = ("zero", "half", "full", "full travel", "half travel")


@dataclass(frozen=True, slots=True)
class Computed:
    """A value that a recipe worked out, already in SI."""

    value: Any
    note: str = ""


def read_value(key: Key, raw: Any) -> tuple[Any, Spread | None]:
    """The value that a key wants, with its spread.

    Raises:
        UnreadableText: Says what was read, what is allowed and what to write.
    """
    value, spread, _ = read_with_unit(key, raw)
    return value, spread


def read_with_unit(key: Key, raw: Any) -> tuple[Any, Spread | None, str]:
    """The same with the unit as written (of money: its currency)."""
    kind = key.kind
    if isinstance(raw, dict):
        raise UnreadableText(f"wants {wanted(key)}, found a table with {', '.join(raw) or 'nothing'}")
    if key.item_kind:
        return _list(key, raw), None, ""
    if isinstance(raw, list):
        raise UnreadableText(f"wants {wanted(key)}, found a list")
    if isinstance(raw, str) and is_unknown(raw):
        return None, None, ""
    if kind in TEXTS:
        return _text(key, raw), None, ""
    if kind == "flag":
        return _flag(raw), None, ""
    if kind in ("date", "fitted"):
        return _date(kind, raw), None, ""
    if isinstance(raw, bool):
        raise UnreadableText(f"wants {wanted(key)}, found {str(raw).lower()}")
    if isinstance(raw, int | float):
        return _bare(key, raw)
    if not isinstance(raw, str):
        raise UnreadableText(f"wants {wanted(key)}, found {raw}")
    return _read(key, kind, raw)


def _read(key: Key, kind: str, raw: str) -> tuple[Any, Spread | None, str]:
    if key.choices:
        value, spread = choice(raw, key.choices)
        return value, spread, ""
    if kind == "direction":
        return _direction(raw), None, ""
    if kind == "face":
        return _face(raw), None, ""
    if kind == "pose":
        return _pose(raw), None, ""
    if kind == "quantity":
        return _any_quantity(raw)
    read = _parsed(raw, kind)
    return read.value, read.spread, read.unit


@lru_cache(maxsize=8192)
def _parsed(raw: str, kind: str) -> Any:
    return parse(raw, kind)


def _bare(key: Key, raw: float) -> tuple[Any, Spread | None, str]:
    if not isfinite(raw):
        raise UnreadableText(f"wants {wanted(key)}, found {raw}")
    if key.kind == "number":
        return float(raw), None, ""
    if key.kind == "count":
        if isinstance(raw, int) and raw >= 0:
            return raw, None, ""
        raise UnreadableText(f"wants a count (a whole number, 0 or more), found {raw}")
    if key.choices or key.kind in ("direction", "face", "pose", "quantity"):
        raise UnreadableText(f"wants {wanted(key)} in quotes, found {raw}")
    return _read(key, key.kind, str(raw))


def _text(key: Key, raw: Any) -> str:
    if not isinstance(raw, str):
        raise UnreadableText(f"wants {wanted(key)} in quotes, found {_plain(raw)}")
    if not raw.strip():
        raise UnreadableText(f"wants {wanted(key)}, found an empty text")
    return raw


def _flag(raw: Any) -> bool:
    if not isinstance(raw, bool):
        raise UnreadableText(f"wants true or false without quotes, found {_plain(raw)}")
    return raw


def _date(kind: str, raw: Any) -> bool | date:
    if isinstance(raw, bool) and kind == "fitted":
        return raw
    if isinstance(raw, date) and not isinstance(raw, datetime):
        return raw
    also = "true, false or " if kind == "fitted" else ""
    raise UnreadableText(f"wants {also}a date without quotes such as 2026-03-07, found {_plain(raw)}")


def _plain(raw: Any) -> str:
    return str(raw).lower() if isinstance(raw, bool) else repr(raw) if isinstance(raw, str) else str(raw)


def _list(key: Key, raw: Any) -> tuple[Any, ...]:
    if not isinstance(raw, list):
        raise UnreadableText(f"wants a list in [ ], found {_plain(raw)}")
    found = []
    for number, item in enumerate(raw, 1):
        try:
            found.append(read_value(key.item, item)[0])
        except UnreadableText as error:
            raise UnreadableText(f"item {number}: {error}") from error
    return tuple(found)


def _direction(raw: str) -> tuple[float, float, float]:
    word = raw.strip()
    if word in DIRECTIONS:
        return DIRECTIONS[word]
    parts = word.split(",")
    if len(parts) == 3:
        try:
            x, y, z = (parse(part.strip(), "number").value for part in parts)
        except UnreadableText as error:
            raise UnreadableText(f"{raw!r} is no direction: {error}") from error
        size = sqrt(x * x + y * y + z * z)
        if size > 0:
            return (x / size, y / size, z / size)
        raise UnreadableText(f"{raw!r} is a vector of no length")
    words = list(DIRECTIONS)
    raise UnreadableText(
        f"{raw!r} is no direction; allowed are {', '.join(words[:6])}, +x ... -z, or a vector such as '0, 0.7, 0.7'"
        f"{nearest_sentence(word, words[:6])}"
    )


def _face(raw: str) -> str:
    if raw.strip() in FACES:
        return raw.strip()
    try:
        _direction(raw)
    except UnreadableText:
        raise UnreadableText(
            f"{raw!r} is no face; allowed are {', '.join(FACES[:8])}, +x ... -z{nearest_sentence(raw, FACES)}"
        ) from None
    return raw.strip()


def _pose(raw: str) -> tuple[float | str, ...]:
    parts = [part.strip() for part in raw.split(", ")]
    if not any(part in POSES for part in parts):
        found: tuple[float | str, ...] = parse(raw, "point").value
        return found
    if len(parts) != 3:
        raise UnreadableText(f"{raw!r} wants three parts, x, y and z, each a length, zero, half or full")
    return tuple(part.split(" ")[0] if part in POSES else parse(part, "length").value for part in parts)


def _any_quantity(raw: str) -> tuple[Any, Spread | None, str]:
    """A value whose kind only its own unit says."""
    unit = raw.split("(")[0].split("+-")[0].strip().lstrip("0123456789.,/ -+eE").strip()
    kind = guess_kind(unit)
    if not kind:
        raise UnreadableText(f"{raw!r}: no kind of quantity has the unit {unit!r}")
    read = _parsed(raw, kind)
    return read.value, read.spread, read.unit


def wanted(key: Key) -> str:
    """What a key wants, in words: ``a length``."""
    if key.choices:
        return f"one of {', '.join(key.choices)}"
    if key.part_kind:
        return f"the name of a {key.part_kind}"
    if key.names == "material":
        return "the name of a material"
    words = {"ref": "a name", "words": "a text", "text": "a text", "size3": "a size x x y x z", "size2": "a size x x y",
             "phase-current": "a current", "static-rating": "a rating", "number": "a number"}  # fmt: skip
    return words.get(key.kind, f"a {key.kind}" if key.kind[0] not in "aeio" else f"an {key.kind}")


def most_in_words(key: Key, system: str = "") -> str:
    """The largest value of a key as text, in both systems of units where none is named; empty where there is none."""
    if key.most is None:
        return ""
    kind = "length" if key.kind in GEOMETRY else key.kind
    if kind not in SCALARS or not SCALARS[kind].units or kind in ("number", "count"):
        return f"{key.most:g}"
    told = dict.fromkeys(show(key.most, kind, each) for each in ((system,) if system else ("metric", "inch")))
    return " (".join(told) + (")" if len(told) > 1 else "")


@lru_cache(maxsize=1024)
def default_of(key: Key) -> Entry:
    """The default of a key as an entry."""
    raw: Any = {"true": True, "false": False}.get(key.default, key.default)
    value, spread = read_value(key, raw)
    return Entry(value, Origin("default", source=key.source, text=key.default), spread)


def sampled(entry: Entry, samples: "Array") -> Any:
    """The value of an entry with one value a sample; of a choice in doubt the words."""
    if entry.spread is not None and entry.spread.shape == "choice":
        import numpy as np

        return np.asarray(entry.spread.choices)[np.asarray(samples).astype(int)]
    if isinstance(entry.value, Rating):
        return replace(entry.value, force=samples)
    if isinstance(entry.value, PhaseCurrent):
        return replace(entry.value, value=samples)
    return samples
