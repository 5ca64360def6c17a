"""Space frames: bars, springs and lumps; their stiffness at any pose, their modes, what holds the strain."""
