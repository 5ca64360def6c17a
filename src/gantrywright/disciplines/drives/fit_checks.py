"""DRV-6xx: what grips fits what it grips."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.disciplines.drives.judging import each_drive
from gantrywright.findings import Verdict, check, holds, unknown
from gantrywright.model.axis import DriveFit
from gantrywright.model.drives.belt import BeltDrive
from gantrywright.model.drives.rack import RackDrive
from gantrywright.model.machine import Machine
from gantrywright.results import Results

Pair = tuple[str, str, str, Real | None, Real | None]
"""Word of the size, key of the gripping part, unit, size of the gripping part, size of the long piece."""


@check(
    "DRV-601", title="Pinion or pulley has the teeth of its rack or belt",
    why="Teeth of another pitch do not mesh, and every figure of the drive is then that of a machine that cannot be built.",
    source="definition", remedy="Take rack and pinion of one module and helix, belt and pulley of one pitch.",
)  # fmt: skip
def teeth_match(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Module and helix of a rack drive, pitch of a belt drive. Opposite hands of helix are not told apart: rows give the angle only."""
    for _, fit, _ in each_drive(machine, results):
        pairs = _pairs(fit)
        if not pairs:
            continue
        lacking = [f"{word} of both: {fit.path}.part.{key}" for word, key, _, one, other in pairs if one is None or other is None]
        sizes = [(word, unit, one, other) for word, _, unit, one, other in pairs if one is not None and other is not None]
        wrong = [size for size in sizes if not np.isclose(typical(size[2]), typical(size[3]), rtol=1e-3, atol=1e-9)]
        if lacking and not wrong:
            yield unknown(fit.path, missing="; ".join(lacking))
            continue
        words = ", ".join(
            f"{word} {show(typical(one), unit, machine.show)} on {show(typical(other), unit, machine.show)}"
            for word, unit, one, other in sizes
        )
        yield holds(fit.path, true=not wrong, note=f"{_named(fit)}: {words}.")


def _pairs(fit: DriveFit) -> tuple[Pair, ...]:
    drive = fit.drive
    if isinstance(drive, RackDrive):
        return (
            ("module", "module", "m", drive.pinion.module, drive.rack.module),
            ("helix", "helix", "rad", drive.pinion.helix, drive.rack.helix),
        )
    if isinstance(drive, BeltDrive):
        return (("pitch", "pitch", "m", drive.pulley.pitch, drive.belt.pitch),)
    return ()


def _named(fit: DriveFit) -> str:
    drive = fit.drive
    if isinstance(drive, RackDrive):
        return f"{drive.pinion.id or 'the pinion'} on {drive.rack.id or 'the rack'}"
    if isinstance(drive, BeltDrive):
        return f"{drive.pulley.id or 'the pulley'} on {drive.belt.id or 'the belt'}"
    return fit.path
