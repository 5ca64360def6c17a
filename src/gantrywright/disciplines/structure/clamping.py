"""What presses a bolted joint together: what tightening gives its screws, no more than what holds them bears."""

from dataclasses import dataclass

from gantrywright.base.samples import least, plain, typical
from gantrywright.base.units import Newton, NewtonMetre, Real
from gantrywright.catalog.kinds import Thread
from gantrywright.model.bodies import Joint
from gantrywright.results.ledger import Ledger, Named
from gantrywright.theory.bolts import bearing_diameter, least_preload, preload_of_torque, tightening_torque, yield_preload
from gantrywright.theory.threads import SCREW_CLASSES, strip_force

STRIPPED = 0.8
"""Part of what strips a tapped thread that may stand in the screw; common practice, no source."""
HEAD, HOLE = 1.5, 1.125
"""Head of a socket cap screw and its hole over the nominal diameter, where the row of the thread does not tell; from memory."""


@dataclass(frozen=True, slots=True)
class Clamp:
    """Force of one screw."""

    most: Newton
    """That tightening gives it, or that it and its thread bear where that is less."""
    least: Newton
    """Most over the scatter of the way of tightening."""
    bears: Newton
    """That screw and thread bear."""
    tightened: Newton | None
    """What the told torque would give it; None where none is told."""
    torque: NewtonMetre
    """That brings it to ``bears``."""
    words: str
    """What limits it."""


def clamp_of(joint: Joint, thread: Thread, ledger: Ledger, path: str) -> Clamp:
    """The force of each screw of a joint.

    Args:
        joint: Of a thread and a class that are known.
        thread: Its row.
        ledger: Where figures are written down: ``PATH.bears``, ``PATH.torque``, ``PATH.clamp``.
        path: Of the joint among the figures.
    """
    made = joint.bolting
    diameter, pitch = thread.diameter or 0.0, thread.pitch or 0.0
    size = {"diameter": Named("", diameter, "m", joint.thread), "pitch": Named("", pitch, "m", joint.thread)}
    friction = Named(f"{made.path}.friction", made.friction) if made.path else Named("", made.friction, "", "of the thread")
    proof = Named("", SCREW_CLASSES[joint.bolt_class].proof, "Pa", f"class {joint.bolt_class}")
    screw = ledger.figure(f"{path}.yield", yield_preload, **size, proof_strength=proof, thread_friction=friction)
    bears, words = _bears(joint, screw, size, ledger, path)
    ring = {
        "thread_friction": friction, "head_friction": friction,
        "head_bearing": Named("", bearing_diameter(head=thread.head or HEAD * diameter), "m", "of a socket cap screw"),
        "hole": Named("", thread.clearance_medium or HOLE * diameter, "m", "under the head"),
    }  # fmt: skip
    torque = ledger.figure(f"{path}.torque", tightening_torque, preload=ledger.link(f"{path}.bears", bears), **size, **ring)
    tightened: Newton | None = None
    if made.torque is not None:
        told = Named(f"{made.path}.torque", made.torque)
        tightened = ledger.figure(f"{path}.tightened", preload_of_torque, torque=told, **size, **ring)
        words = f"the torque of {made.path}" if typical(tightened) < typical(bears) else words
    most = bears if tightened is None else plain(least(bears, tightened))
    scatter = Named(f"{made.path}.scatter", made.scatter) if made.path else Named("", made.scatter, "", made.tightening)
    lowest = ledger.figure(f"{path}.clamp", least_preload, preload=Named("", most, "N", f"most, by {words}"), scatter=scatter)
    return Clamp(most, lowest, bears, tightened, torque, words)


def _bears(joint: Joint, screw: Newton, size: dict[str, Named], ledger: Ledger, path: str) -> tuple[Newton, str]:
    """What screw and thread bear together, and which of the two bears less."""
    made = joint.bolting
    held: Real | None = made.bears
    words, inputs = f"what its {made.into} bears", {}
    if held is not None:
        inputs = {"held": Named(f"{made.path}.bears", held)}
    elif made.engagement is not None and made.strength is not None:
        strip = ledger.figure(
            f"{path}.strip", strip_force, **size, engagement=Named(f"{made.path}.engagement", made.engagement),
            tapped_strength=Named("", made.strength, "Pa", f"of {made.tapped}"),
        )  # fmt: skip
        held, words = STRIPPED * strip, f"the thread in {made.tapped}"
        inputs = {"strip": ledger.named(f"{path}.strip"), "share": Named("", STRIPPED, "", "that may stand in the screw; common practice, no source")}  # fmt: skip
    bears = screw if held is None else plain(least(screw, held))
    ledger.note(
        f"{path}.bears", bears, unit="N", formula="least of screw (90 % of yield) and what holds it", source="derived",
        title="Greatest clamp force of a screw that it and what holds it bear", screw=ledger.named(f"{path}.yield"), **inputs,
    )  # fmt: skip
    lower = held is not None and typical(held) < typical(screw)
    return bears, words if lower else f"its class {joint.bolt_class}"
