"""From the text of a machine file to a placed machine, or to all its problems."""
