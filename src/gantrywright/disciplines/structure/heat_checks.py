"""STR-5xx: what the temperature of the shop takes of the accuracy that is wanted."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.heat import carried
from gantrywright.findings import Verdict, ceiling, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.structure import HeatAnswer

BOW_SHARE = 0.5
GROWTH_SHARE = 1.0
"""Parts of the wanted accuracy (common practice, no source)."""
BAND = "how cold and how warm the shop gets: the band of site.ambient"


def still(answer: HeatAnswer | None) -> bool:
    """Whether the shop never gets warmer or colder, as far as the file tells."""
    return answer is not None and bool(np.all(np.asarray(answer.warming) == 0))


@check(
    "STR-501", title="Warmth bows nothing that carries rails by more than half of the wanted accuracy",
    why="The rails lie on a curve: straight cuts come out bowed, and blocks on two rails bind.", source="common practice, no source",
    remedy="Rails on opposite faces instead of one, a beam of steel or a taller one; or build it, and set it straight, at the temperature it works at.",
)  # fmt: skip
def straight_when_warm(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Bow of every rail carrier on the shop's farthest day from that of assembly."""
    answers = {answer.subject: answer for answer in results.structure.heat if answer.kind == "bow"}
    wanted = machine.purpose.accuracy
    for path in dict.fromkeys(one.path for one in carried(machine)):
        answer = answers.get(path)
        if wanted is None:
            yield unknown(path, missing="the accuracy wanted (purpose.accuracy)", unit="m")
        elif still(answer):
            yield unknown(path, missing=BAND, unit="m", limit=BOW_SHARE * wanted)
        elif answer is None:
            words = f"expansion and modulus of its material ({path}.material), and width, height and mass of its rails"
            yield unknown(path, missing=words, unit="m", limit=BOW_SHARE * wanted)
        else:
            least = show(typical(answer.relieved), "m", machine.show)
            yield ceiling(
                path, value=answer.value, limit=BOW_SHARE * wanted, unit="m", what="bow", figure=answer.figure,
                note=f"{answer.words}; with screws that hold, {least} where they slip as soon as friction lets them",
            )  # fmt: skip


@check(
    "STR-502", title="Drives grow against the work by no more than the wanted accuracy",
    why="Parts that were cut on a cold day do not fit those that were cut on a warm one.", source="common practice, no source",
    remedy="Scale the travel per turn to the temperature of the day, keep the shop nearer to one temperature, or measure and correct the first part.",
)  # fmt: skip
def grows_with_the_work(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Growth of every drive over the work area against the work that differs most; of plastics what a metal would grow."""
    if not machine.jobs:
        return
    answers = {answer.subject: answer for answer in results.structure.heat if answer.kind == "growth"}
    wanted = machine.purpose.accuracy
    for fit in (fit for axis in machine.axes for fit in axis.drives):
        answer = answers.get(fit.path)
        if wanted is None:
            yield unknown(fit.path, missing="the accuracy wanted (purpose.accuracy)", unit="m")
        elif still(answer):
            yield unknown(fit.path, missing=BAND, unit="m", limit=GROWTH_SHARE * wanted)
        elif answer is None:
            yield unknown(fit.path, missing="the expansion of a job's material (expansion)", unit="m", limit=GROWTH_SHARE * wanted)
        else:
            yield ceiling(
                fit.path, value=answer.value, limit=GROWTH_SHARE * wanted, unit="m", what="growth", figure=answer.figure, note=answer.words,
            )  # fmt: skip
