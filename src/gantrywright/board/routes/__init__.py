"""The board's addresses by what they are for: starting, changing, answering, long work."""
