"""Motors on axes: how fast, how hard, with what margin, and what binds."""
