"""gantrywright: know what a gantry router will do before the metal is cut."""
