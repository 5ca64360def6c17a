"""What everything weighs."""
