"""The many characters that mean the same on paper, brought to the few that the readers know."""

_BLANKS = "\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000\t"
_SAME = {
    **dict.fromkeys(_BLANKS, " "),
    "\u2212": "-", "\u2010": "-", "\u2011": "-",
    "×": "x", "✕": "x", "·": " ", "\u22c5": " ",
    "µ": "u", "μ": "u", "Ω": "ohm", "\u2126": "ohm",
    "º": "°", "²": "2", "³": "3", "\u2044": "/",
    "\u2032": "'", "\u2019": "'", "\u2033": '"', "\u201d": '"',
    "±": "+-", "…": "..",
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
}  # fmt: skip
_TABLE = str.maketrans(_SAME)


def plain(text: str) -> str:
    """The text in plain characters, without blanks at its ends.

    Example:
        >>> plain("250 N/µm ± 5 %")
        '250 N/um +- 5 %'
    """
    return text.strip() if text.isascii() and "\t" not in text else text.translate(_TABLE).strip()
