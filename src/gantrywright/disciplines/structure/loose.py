"""Says what hangs loose, and why, where a machine cannot be solved."""

from collections.abc import Mapping

import numpy as np

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import solved
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.solver import Unheld


def why_loose(machine: Machine, pose: Mapping[str, float]) -> str:
    """Which part nothing holds, in words; empty where everything is held.

    Args:
        machine: Typical.
        pose: Place of each axis by name, m.
    """
    built = skeleton_of(machine)
    if built.skeleton is None:
        part = next(iter(built.adrift), "")
        return f"{part} is then joined to nothing" if part else f"not known without {'; '.join(built.lacking)}"
    mesher = Mesher(built.skeleton)
    try:
        here = solved(mesher, pose)
        here.under(here.mesh.load)
    except Unheld as error:
        moved = np.abs(error.motion.reshape(-1, 6)).max(axis=1)
        part = built.skeleton.bars[int(mesher.at(pose).node_bar[int(np.argmax(moved))])].part
        return f"{part} can then move freely: a joint, a block or a drive between it and the floor resists nothing that way"
    return ""
