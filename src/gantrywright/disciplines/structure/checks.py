"""The checks of the structure, gathered."""

from gantrywright.disciplines.structure.stiffness_checks import proves_itself, push_off, sag, stiffness_for_jobs, wanted_stiffness

__all__ = ["proves_itself", "push_off", "sag", "stiffness_for_jobs", "wanted_stiffness"]
