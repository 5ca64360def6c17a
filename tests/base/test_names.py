"""Which names are offered for one that is not known."""

from difflib import get_close_matches

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.names import nearest, nearest_sentence
from gantrywright.catalog.tables import Catalog

MATERIALS = tuple(row.id for row in Catalog().rows("material") if row.text("shear_force"))


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("mapel", ("maple-soft", "maple-hard")),
        ("maple", ("maple-soft", "maple-hard")),
        ("plywod", ("plywood-birch", "plywood-softwood")),
        ("aspn", ("aspen",)),
        ("al-6062", ("al-6082",)),
    ],
)
def test_the_likeliest_materials_come_first(typed: str, first: tuple[str, ...]) -> None:
    assert nearest(typed, MATERIALS)[: len(first)] == first


def test_what_is_like_nothing_gets_no_name() -> None:
    assert nearest_sentence("qqqq", MATERIALS) == ""


@given(
    name=st.text("abcd-", min_size=1, max_size=8), known=st.lists(st.text("abcd", min_size=1, max_size=8), max_size=8, unique=True)
)
def test_names_of_one_word_are_ranked_as_by_their_letters_alone(name: str, known: list[str]) -> None:
    assert nearest(name, known) == tuple(get_close_matches(name, sorted(known), n=3, cutoff=0.6))
