"""A study on its way between two processes: all but the machine, which each side resolves from the same text."""

import copyreg
import pickle

from gantrywright.findings import Check
from gantrywright.model.machine import Machine
from gantrywright.study.checking import check_of
from gantrywright.study.study import Study

copyreg.pickle(Check, lambda check: (check_of, (check.id,)))  # a check is its id: its function is at home on both sides


def packed(study: Study) -> bytes:
    """Everything that a study found out."""
    parts = (study.results, study.findings, study.bands, study.settled, study.samples, study.unknowns, study.lessons, study.pending)
    return pickle.dumps(parts, protocol=5)


def unpacked(parcel: bytes, machine: Machine) -> Study:
    """The study again, on a machine of the same text. Only for parcels that a process of this program made."""
    return Study(machine, *pickle.loads(parcel))
