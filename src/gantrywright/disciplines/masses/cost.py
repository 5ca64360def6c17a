"""What is still to be paid, as far as the file gives prices."""

from gantrywright.model.bodies import Use
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import Cost


def cost(machine: Machine, ledger: Ledger) -> Cost:
    """Prices of all that is not owned; what has none is named. Screws, cables and stock that is cut are not in it.

    Args:
        machine: Typical or sampled.
        ledger: Where the figure ``cost.total`` is written down.
    """
    open_ = {path: use for path, use in _uses(machine).items() if not use.owned and (use.part or use.price is not None)}
    priced = {path: use.price for path, use in open_.items() if use.price is not None}
    lacking = tuple(path for path in open_ if path not in priced)
    found = Cost(sum(priced.values(), 0.0), lacking, len(priced))
    note = f"; lower bound, without a price: {', '.join(lacking)}" if lacking else ""
    ledger.note(
        "cost.total", found.total if found.known else None, unit=machine.currency, formula=f"sum of the prices of what is not owned{note}", source="definition",
        title="Cost of what is still to be bought, screws, cables and stock left out",
        **{path: Named(f"{path}.price", price, machine.currency) for path, price in priced.items()},
    )  # fmt: skip
    return found


def _uses(machine: Machine) -> dict[str, Use]:
    """Everything that may have a price, by its path."""
    found = {solid.path: solid.use for solid in (*machine.solids, *machine.planned)}
    for axis in machine.axes:
        found |= {f"{fit.path}.driver": fit.driver.use for fit in axis.drives if fit.driver is not None}
    found |= {f"supply.{supply.name}": supply.use for supply in machine.supplies}
    if machine.controller is not None:
        found["controller"] = machine.controller.use
    return found
