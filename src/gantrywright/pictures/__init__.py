"""Pictures where people would rather look: each is data first, then SVG and CSV. A new one is a row of `PICTURES`."""

from dataclasses import replace

from gantrywright.base.errors import NotFound
from gantrywright.pictures.drives import force_against_speed
from gantrywright.pictures.guides import block_loads
from gantrywright.pictures.picture import Maker, Picture
from gantrywright.pictures.saved import csv_of
from gantrywright.pictures.structure import modes, receptance, shares, stiffness_map
from gantrywright.pictures.svg import svg_of
from gantrywright.pictures.together import in_units_of, joined
from gantrywright.study.study import Study

_MADE = (
    Maker("block-loads", "Loads of the guide blocks", "guides", "what the blocks bear along the travel", block_loads),
    Maker(
        "force-speed", "Force against speed", "drives", "what each axis has left at a speed, and what caps it", force_against_speed
    ),
    Maker("stiffness-map", "Stiffness over the table", "stiffness", "where the machine is soft", stiffness_map),
    Maker("shares", "What gives", "stiffness", "which part holds how much of the give", shares),
    Maker("modes", "Modes", "ringing", "at which frequencies it rings, and what rings", modes),
    Maker("receptance", "Answer to a swinging force", "ringing", "how far the tool moves at each frequency", receptance),
)
PICTURES: dict[str, Maker] = {made.id: made for made in _MADE}
"""Every picture, in the order in which a builder meets them."""


def picture_of(name: str, study: Study) -> Picture:
    """One picture of a machine; raises `NotFound`."""
    if name not in PICTURES:
        raise NotFound(f"there is no picture {name!r}; there are: {', '.join(PICTURES)}")
    return PICTURES[name].make(study)


def together(name: str, study: Study, other: Study, names: tuple[str, str]) -> Picture:
    """One picture of two machines on one scale, in the units of the first; raises `NotFound`."""
    first = picture_of(name, study)
    same = replace(other, machine=replace(other.machine, show=study.machine.show))
    return joined(first, in_units_of(picture_of(name, same), first), names)


__all__ = ["PICTURES", "Maker", "Picture", "csv_of", "picture_of", "svg_of", "together"]
