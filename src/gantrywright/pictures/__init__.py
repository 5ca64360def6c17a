"""Pictures where people would rather look: each is data first, then SVG and CSV. A new one is a row of `PICTURES`."""

from gantrywright.base.errors import NotFound
from gantrywright.pictures.picture import Maker, Picture
from gantrywright.pictures.saved import csv_of
from gantrywright.pictures.svg import svg_of
from gantrywright.study.study import Study

PICTURES: dict[str, Maker] = {}
"""Every picture, in the order in which a builder meets them."""


def picture_of(name: str, study: Study) -> Picture:
    """One picture of a machine; raises `NotFound`."""
    if name not in PICTURES:
        raise NotFound(f"there is no picture {name!r}; there are: {', '.join(PICTURES)}")
    return PICTURES[name].make(study)


__all__ = ["PICTURES", "Maker", "Picture", "csv_of", "picture_of", "svg_of"]
