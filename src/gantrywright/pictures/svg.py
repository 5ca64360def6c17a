"""Pictures as SVG, in ink on paper: what the page shows, for print and for letters."""

from html import escape

from gantrywright.pictures.ink import INK, LEFT, PAPER, RIGHT, TOP, WIDE, text, wrapped
from gantrywright.pictures.picture import Picture
from gantrywright.pictures.svg_lines import lines
from gantrywright.pictures.svg_map import heat
from gantrywright.pictures.svg_rows import bars, table

LEAST_HIGH = 96.0


def svg_of(picture: Picture) -> str:
    """The whole picture as one SVG text."""
    draw = {"lines": lines, "bars": bars, "map": heat, "table": table}[picture.kind]
    body, high = lacking(picture) if picture.empty else draw(picture)
    high = max(high, LEAST_HIGH)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {high:g}" width="{WIDE:g}" height="{high:g}" role="img" '
        f'font-family="system-ui, sans-serif" font-size="13" fill="{INK}">'
        f"<title>{escape(picture.title)}</title><desc>{escape(_description(picture))}</desc>"
        f'<rect width="100%" height="100%" fill="{PAPER}"/>{text(LEFT / 2, 24, picture.title, size=16)}{"".join(body)}</svg>'
    )


def lacking(picture: Picture) -> tuple[list[str], float]:
    """What is drawn where there is nothing to draw: the words that say what is lacking."""
    told = wrapped(picture.words, WIDE - LEFT - RIGHT)
    return [text(LEFT / 2, TOP + 8 + 18 * number, line) for number, line in enumerate(told)], TOP + 18 * len(told) + 20


def _description(picture: Picture) -> str:
    return " ".join(
        [picture.words, *(f"{key.label}: {key.text}{f' against {key.other}' if key.other else ''}." for key in picture.key)]
    )
