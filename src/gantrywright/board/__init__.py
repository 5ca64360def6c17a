"""The drawing board: a local page on which the machine stands, is changed and answers. Draws what other rooms worked out."""
