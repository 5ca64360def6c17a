"""Pictures where people would rather look: each is data first, then SVG and CSV. A new one is a row of `PICTURES`."""

from dataclasses import replace

from gantrywright.base.errors import NotFound
from gantrywright.pictures.cut_forces import forces, wall
from gantrywright.pictures.cut_limits import ceilings, lobes, swinging
from gantrywright.pictures.drives import force_against_speed
from gantrywright.pictures.guides import block_loads
from gantrywright.pictures.jobs import of_jobs
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
    of_jobs("cut-limits", "What limits the cut", "the removal rate that each limit allows", "bars", ceilings),
    of_jobs("cut-forces", "Forces over a turn", "what the cut does to the tool", "lines", forces),
    of_jobs("cut-wall", "Error of the wall over its height", "how far the wall stands off", "lines", wall),
    of_jobs("cut-lobes", "Chatter over the speed", "how deep may be cut at each speed", "lines", lobes),
    of_jobs("cut-swing", "Swinging over the speed", "what a swinging tool leaves on the wall", "lines", swinging),
    Maker("stiffness-map", "Stiffness over the table", "stiffness", "where the machine is soft", stiffness_map),
    Maker("shares", "What gives", "stiffness", "which part holds how much of the give", shares),
    Maker("modes", "Modes", "ringing", "at which frequencies it rings, and what rings", modes),
    Maker("receptance", "Answer to a swinging force", "ringing", "how far the tool moves at each frequency", receptance),
)
PICTURES: dict[str, Maker] = {made.id: made for made in _MADE}
"""Every picture, in the order in which a builder meets them."""


def picture_of(name: str, study: Study) -> Picture:
    """One picture of a machine; that of a single job is called ``cut-lobes:NAME``. Raises `NotFound`."""
    made = maker_of(name)
    of = name.partition(":")[2]
    return made.of_job(study, of) if of and made.of_job is not None else made.make(study)


def maker_of(name: str) -> Maker:
    """What makes a picture, with or without the job that it is of; raises `NotFound`."""
    kind, _, of = name.partition(":")
    if kind not in PICTURES or (of and PICTURES[kind].of_job is None):
        raise NotFound(f"there is no picture {name!r}; there are: {', '.join(PICTURES)}")
    return PICTURES[kind]


def together(name: str, study: Study, other: Study, names: tuple[str, str]) -> Picture:
    """One picture of two machines on one scale, in the units of the first; raises `NotFound`."""
    first = picture_of(name, study)
    same = replace(other, machine=replace(other.machine, show=study.machine.show))
    return joined(first, in_units_of(picture_of(name, same), first), names)


__all__ = ["PICTURES", "Maker", "Picture", "csv_of", "maker_of", "picture_of", "svg_of", "together"]
