"""The command line: reads arguments, calls the house, prints."""
