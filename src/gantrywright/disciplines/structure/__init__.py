"""The machine as a structure: what gives at the cutter, which part, how it rings."""
