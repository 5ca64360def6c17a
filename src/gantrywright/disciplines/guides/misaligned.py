"""What the blocks of an axis bear because rails are never quite parallel and level."""

from typing import Any

import numpy as np

from gantrywright.base.units import Real
from gantrywright.model.axis import Axis, Block
from gantrywright.results.ledger import Ledger, Named
from gantrywright.theory import guide_misalignment as misalignment
from gantrywright.theory.guides import moment_load


def across(axis: Axis) -> float:
    """Distance between the outermost rails, m; 0 for a single rail."""
    feet = np.array([rail.start for rail in axis.rails])
    if len(feet) < 2:
        return 0.0
    apart = feet[:, None, :] - feet[None, :, :]
    apart = apart - (apart @ np.array(axis.direction))[..., None] * np.array(axis.direction)
    return float(np.linalg.norm(apart, axis=-1).max())


def misalignment_load(axis: Axis, block: Block, ledger: Ledger) -> Real:
    """Equivalent load of one block from the alignment that the builder can reach.

    Three parts: the rails' distance is off; they run out of level along their length, which warps the carriage over its own block
    row; one lies higher than the other, which tilts every block. The structure gives way in series; as if it were rigid, the figure
    ``.misalignment_rigid`` stands beside it.
    """
    spacing = across(axis)
    opposite = next((other for other in axis.blocks if other.rail != block.rail), None)
    if opposite is None or spacing == 0:
        return 0.0
    aligned, path = axis.alignment, block.path
    rail = next((rail for rail in axis.rails if rail.path == block.rail), axis.rails[0])
    twist = aligned.height * min(axis.block_spacing / rail.length, 1.0) if axis.blocks_per_rail > 1 else aligned.height * 0.0
    tilt = misalignment.height_moment(error=aligned.height, across=spacing, roll_stiffness=block.roll_stiffness)
    static, rolling = block.part.static, block.part.moment_roll
    tilted: Real = 0.0
    if static is not None and rolling is not None:
        tilted = moment_load(moment=tilt, static_moment=rolling, static_rating=static.force)

    def total(structure: Real) -> Real:
        squeezed = misalignment.parallelism_load(
            error=aligned.parallel, first=block.lateral_stiffness, second=opposite.lateral_stiffness, structure=structure
        )
        warped = misalignment.corner_load(error=twist, stiffness=block.normal_stiffness, structure=structure)
        return squeezed + warped + tilted

    given: dict[str, Any] = {
        "parallel": Named(f"{axis.path}.alignment.parallel", aligned.parallel),
        "height": Named(f"{axis.path}.alignment.height", aligned.height),
        "lateral_stiffness": Named(f"{path}.stiffness.lateral", block.lateral_stiffness),
        "normal_stiffness": Named(f"{path}.stiffness.normal", block.normal_stiffness),
        "roll_stiffness": Named(f"{path}.stiffness.roll", block.roll_stiffness),
        "static": Named(f"{path}.part.static", static),
        "moment_roll": Named(f"{path}.part.moment_roll", rolling),
        "across": Named("", spacing, "m", "between the outermost rails"),
        "spacing": Named(f"{axis.path}.blocks.spacing", axis.block_spacing),
        "rail": Named(f"{rail.path}.length", rail.length),
    }
    words = "F = e/(1/k1 + 1/k2 + 1/ks) + dh s/L/(4/kn + 1/ks) + C0 k_roll dh/(c M0), s block spacing, L rail, c across"
    ledger.note(f"{path}.misalignment_rigid", total(misalignment.RIGID), unit="N", formula=words + ", ks without end",
                title="Load from misalignment if nothing gave way", **given)  # fmt: skip
    return ledger.note(
        f"{path}.misalignment", total(aligned.structure), unit="N", formula=words, title="Load from misalignment of the rails",
        structure=Named(f"{axis.path}.alignment.structure", aligned.structure), **given,
    )  # fmt: skip
