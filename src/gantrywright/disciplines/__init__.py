"""One folder a discipline: analyse the machine, then judge it."""
