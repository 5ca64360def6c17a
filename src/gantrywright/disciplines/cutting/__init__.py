"""What the cut asks of the machine."""
