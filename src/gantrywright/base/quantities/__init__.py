"""Text with units to SI values and back. Loads no numerical library, so that a file check starts at once.

``parse`` reads one value of a wanted kind, ``write`` gives the text that reads back as the same value, ``show`` words a result for people
in the system they chose.
"""

from gantrywright.base.quantities.compound import with_number
from gantrywright.base.quantities.doubt import choice, is_unknown, words_in_doubt
from gantrywright.base.quantities.kinds import SCALARS, Kind, about, currency_of, guess_kind
from gantrywright.base.quantities.quantity import Quantity
from gantrywright.base.quantities.reading import READERS, parse
from gantrywright.base.quantities.showing import show, show_band, unit_for, write

__all__ = [
    "READERS", "SCALARS", "Kind", "Quantity", "about", "choice", "currency_of", "guess_kind", "is_unknown", "parse", "show", "show_band",
    "unit_for", "with_number", "words_in_doubt", "write",
]  # fmt: skip
