"""A second opinion on the chatter of every job: long work, told job by job."""

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

import numpy as np

from gantrywright.results.jobs import Second
from gantrywright.study.study import Study, simulated


def second_opinions(
    study: Study, told: Callable[[float, str], None] = lambda fraction, words: None, only: str = ""
) -> dict[str, Second]:
    """By job; jobs without lobes have none.

    Args:
        study: From typical values.
        told: Called with how far it is, from 0 to 1, and words.
        only: Name of the one job that is looked at; empty: all.
    """
    from gantrywright.disciplines.cutting.second import second  # compiled code: only when it is asked for

    told(0.0, "making ready; on a new machine this takes half a minute")
    study = simulated(study)
    return second(study.machine, study.results, told, only)


def exported(found: dict[str, Second]) -> dict[str, Any]:
    """As plain data, SI."""
    return {name: {key: _plain(value) for key, value in asdict(one).items()} for name, one in found.items()}


def _plain(value: Any) -> Any:
    if isinstance(value, np.ndarray):
        return [None if not np.isfinite(part) else float(part) for part in value]
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    return None if isinstance(value, float) and not np.isfinite(value) else value
