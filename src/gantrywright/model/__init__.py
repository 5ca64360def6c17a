"""The resolved machine: every part looked up, in SI, placed."""
