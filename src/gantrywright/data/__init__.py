"""Tables, demo machines and sources; no code."""
