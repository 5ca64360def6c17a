"""Names what hangs loose where the machine cannot be solved."""

from collections.abc import Mapping

import numpy as np

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.statics import solved
from gantrywright.model.machine import Machine
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.solver import Unheld


def loose_part(machine: Machine, pose: Mapping[str, float]) -> str:
    """The part that moves most in a motion that nothing resists; empty where everything is held.

    Args:
        machine: Typical.
        pose: Place of each axis by name, m.
    """
    built = skeleton_of(machine)
    if built.skeleton is None:
        return ""
    mesher = Mesher(built.skeleton)
    try:
        here = solved(mesher, pose)
        here.under(here.mesh.load)
    except Unheld as error:
        moved = np.abs(error.motion.reshape(-1, 6)).max(axis=1)
        return built.skeleton.bars[int(mesher.at(pose).node_bar[int(np.argmax(moved))])].part
    return ""
