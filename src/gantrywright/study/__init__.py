"""The fixed order of the analyses, the checks, the spread, the remedies."""
