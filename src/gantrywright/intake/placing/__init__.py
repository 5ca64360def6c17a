"""Places what a machine file describes: bars, plates, guides, drives, spindle, reach, joints, masses.

Everything is placed in the own measures of its body, parallel to the machine frame; the last step adds where each body stands.
"""
