"""Where a drive is softest along its travel, and what each of its springs does there; the motor shaft is held."""

from typing import Any

import numpy as np

from gantrywright.base.units import Array, Metre, NewtonPerMetre
from gantrywright.model.axis import DriveFit
from gantrywright.model.drive_chain import CLEAR, stage_spring
from gantrywright.model.drives.series import Spring, in_a_row
from gantrywright.results.ledger import Ledger, Named

PLACES = 9
"""Places along the travel at which stiffness is looked at; it has one least and no wiggles."""
AS_GIVEN = "as the file or the row of the part says; else usual for its size"


def least_and_most(fit: DriveFit, ledger: Ledger) -> tuple[NewtonPerMetre | None, NewtonPerMetre | None, dict[str, NewtonPerMetre]]:
    """Stiffness where the drive is softest and where it is stiffest, and each known link by name where it is softest.

    Args:
        fit: The drive.
        ledger: Every known link becomes a figure, as it is where the drive is softest.
    """
    parts, stage = fit.drive.parts, stage_spring(fit)
    springs = (*(() if stage is None else (stage,)), *fit.drive.springs())
    places: Array = np.clip(np.linspace(parts.nearest, parts.farthest, PLACES), CLEAR, parts.free_length - CLEAR)
    known = [spring for spring in springs if spring.known]
    chain = in_a_row((spring.at(places) for spring in known), places)
    if chain is None:
        return None, None, {}
    chain = np.asarray(chain)
    ends = {"least": np.argmin(chain, axis=-1), "most": np.argmax(chain, axis=-1)}
    links = {spring.name: _figure(spring, places[ends["least"]], ledger) for spring in known}
    if len(known) < len(springs):
        return None, None, links
    found = {word: np.take_along_axis(chain, at[..., None], -1)[..., 0] for word, at in ends.items()}
    softest: dict[str, Any] = {spring.name: ledger.named(spring.path) for spring in springs}
    stiffest = softest | {spring.name: _at(spring, places[ends["most"]]) for spring in springs if spring.moves}
    for word, words, inputs in (("least", "softest", softest), ("most", "stiffest", stiffest)):
        ledger.note(
            f"{fit.path}.stiffness_{word}", found[word], unit="N/m", source="iso-3408-4", title=f"Stiffness of the drive along the axis where it is {words}",
            formula=f"1/k = sum of 1/k over its links, motor shaft held, at the {words} of {PLACES} places", **inputs,
        )  # fmt: skip
    return found["least"], found["most"], links


def _figure(spring: Spring, place: Metre, ledger: Ledger) -> NewtonPerMetre:
    inputs = {name: Named(given[0], given[1], note=given[2] if len(given) > 2 else "") for name, given in spring.inputs.items()}
    if spring.function is None:
        (value,) = inputs.values()
        given: NewtonPerMetre = value.value
        return ledger.note(
            spring.path, given, unit="N/m", formula=AS_GIVEN, source="definition",
            title=f"Stiffness of the {spring.name} along the axis", **inputs,
        )  # fmt: skip
    if spring.moves:
        inputs["distance"] = Named("", place, note="of the grip from the motor end where the drive is softest")
    found: NewtonPerMetre = ledger.figure(spring.path, spring.function, **inputs)
    return found


def _at(spring: Spring, place: Metre) -> Named:
    """A spring where the drive is stiffest; a place of each sample, so that places must be their own axis."""
    stiffness = np.asarray(spring.stiffness(np.asarray(place)[..., None]))
    return Named("", stiffness[..., 0], "N/m", "where the drive is stiffest")
