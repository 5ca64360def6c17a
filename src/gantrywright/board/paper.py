"""The machine on paper: one HTML file that prints as a drawing sheet, with everything in it. Nothing is worked out in a browser."""

import re
import time
from base64 import b64encode
from collections.abc import Iterable
from html import escape
from pathlib import Path

from gantrywright.board import views
from gantrywright.board.desk import Desk
from gantrywright.findings import Finding, Status
from gantrywright.pictures import picture_of, svg_of
from gantrywright.scene import Scene, scene_of
from gantrywright.scene.picture import draw
from gantrywright.study.assumed import assumed
from gantrywright.study.export import finding as exported
from gantrywright.study.study import Study

STYLE = (Path(__file__).parent / "paper.css").read_text(encoding="utf-8")
SHOWN = (("isometric", 1400, 940), ("front", 900, 560), ("top", 900, 560))
"""Views of the machine, with pixels across and down."""
WHITE = (255, 255, 255)
PICTURES = ("stiffness-map", "shares")
BREAK = re.compile(r"[._-]")
"""Where a path may be broken, so that a narrow column need not cut a word."""
SIGNS = {Status.FAIL: "✕ fails", Status.BROKEN: "⚠ check broke", Status.UNKNOWN: "? unknown", Status.WATCH: "! watch"}
CARE = (
    "These figures are estimates from what the machine file says and from the defaults that it leaves open. They help a builder to judge; "
    "they replace neither that judgement nor local codes and licensed practice, which come first wherever they say otherwise.",
    "Mains wiring and its protection are for those who are licensed for it where you live. Take the supply away and let capacitors run "
    "empty before you touch anything.",
    "An upright axis can fall when its motor is off: block it before you reach under it. Keep hands clear of everything that may move, "
    "first of all at the first motion, and have the emergency stop within reach and tried.",
    "A cutter throws chips and can break. Guard it, wear eye protection, draw off dust; wood dust and fine metal dust can burn.",
    "Heavy parts need a hoist or more hands: the masses are in the table of promises and in the machine file.",
)


def paper(desk: Desk) -> str:
    """The sheet of the machine on a desk.

    Where the file as it stands makes no machine, the sheet says so, and shows the last one that it made.
    """
    sheet = desk.sheet
    title = views.title(desk, sheet)
    study = sheet.whole if sheet.whole is not None and sheet.settled == sheet.answers else sheet.study
    body = [_front(title, study), *([] if study is None else _answers(study))]
    wrong = _wrong([problem.message for problem in sheet.problems])
    return (
        f'<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>{escape(title["title"])} – sheet</title>'
        f'<meta name="viewport" content="width=device-width, initial-scale=1"><style>{STYLE}</style></head>'
        f"<body><main>{wrong}{''.join(body)}</main></body></html>\n"
    )


def _front(title: dict[str, str], study: Study | None) -> str:
    """First page: the machine, and the title block in its corner."""
    drawn = "" if study is None else _machine(study)
    return f'<section class="front"><h1>{escape(title["title"])}</h1>{drawn}{_title_block(title)}</section>'


def _machine(study: Study) -> str:
    scene = scene_of(study.machine)
    return f'<div class="views">{"".join(_view(scene, *shown) for shown in SHOWN)}</div>'


def _view(scene: Scene, name: str, wide: int, high: int) -> str:
    made = draw(scene, name, wide=wide, high=high, paper=WHITE)
    data = b64encode(made.png()).decode("ascii")
    words = f"The machine {made.view.words}"
    return f'<figure class="view-{name}"><img alt="{escape(words)}" width="{wide}" height="{high}" src="data:image/png;base64,{data}"><figcaption>{escape(words)}</figcaption></figure>'  # fmt: skip


def _title_block(title: dict[str, str]) -> str:
    """Field names as a technical drawing has them (ISO 7200); what nobody has signed yet stays free."""
    cells = (
        ("Document type", title["document_type"]), ("Legal owner", title["owner"]), ("Title", title["title"]),
        ("Identification number", title["identification"]), ("Revision index", title["revision"]), ("Date of issue", title["date_of_issue"]),
        ("Units", title["units"]), ("Verdict", title["verdict"]), ("Printed", views.when(time.time())),
        ("Created by", ""), ("Approved by", ""), ("Sheet", "numbered at the foot"),
    )  # fmt: skip
    told = "".join(f"<div><dt>{escape(name)}</dt><dd>{escape(text) or '&nbsp;'}</dd></div>" for name, text in cells)
    return f'<dl class="title-block">{told}</dl>'


def _answers(study: Study) -> Iterable[str]:
    yield _promises(study)
    yield f'<section class="care"><h2>Care</h2>{"".join(f"<p>{escape(words)}</p>" for words in CARE)}</section>'
    yield _pictures(study)
    yield _findings(study)
    yield _defaults(study)


def _promises(study: Study) -> str:
    rows = "".join(
        f'<tr><th scope="row">{escape(made["label"])}</th><td>{escape(made["text"])}</td><td>{escape(made["band"])}</td>'
        f"<td>{escape(made['wanted'])}{'<br>not known whether reached' if made['undecided'] else ''}</td>"
        f'<td class="words">{escape("; ".join(filter(None, (made["binds"], made["place"]))))}</td></tr>'
        for made in views.promised(study, None, {})
    )
    spread = "from 5 % to 95 % of what the inputs allow" if study.settled else "not worked out yet: these are typical values"
    return (
        f'<section class="promises"><h2>What it can promise</h2><table><caption>Band: {spread}.</caption><thead><tr><th scope="col">promise</th>'
        f'<th scope="col">value</th><th scope="col">band</th><th scope="col">wanted</th><th scope="col" class="words">what binds, and where</th>'
        f"</tr></thead><tbody>{rows}</tbody></table></section>"
    )


def _pictures(study: Study) -> str:
    drawn = [picture_of(name, study) for name in PICTURES]
    told = "".join(f"<figure>{svg_of(picture)}<figcaption>{escape(picture.words)}</figcaption></figure>" for picture in drawn)
    return f'<section class="pictures"><h2>Stiffness</h2>{told}</section>'


def _findings(study: Study) -> str:
    """All that do not hold, worst first."""
    told = [found for found in study.worst() if found.status in SIGNS]
    held = study.count(Status.OK)
    rows = "".join(_finding(study, found) for found in told)
    rest = f"<p>{held} other checks hold.</p>"
    if not told:
        return f'<section class="findings"><h2>Findings</h2>{rest}</section>'
    return (
        f'<section class="findings"><h2>Findings that do not hold</h2><table><thead><tr><th scope="col">status</th><th scope="col">where</th>'
        f'<th scope="col">finding, and what would mend it</th></tr></thead><tbody>{rows}</tbody></table>{rest}</section>'
    )


def _finding(study: Study, found: Finding) -> str:
    data, line = exported(found), views.finding(study, found)
    more = "".join(f'<br><span class="more">{escape(text)}</span>' for text in (data["note"], data["remedy"]) if text)
    where = BREAK.sub(r"\g<0><wbr>", escape(found.subject))
    return (
        f'<tr><td class="status">{escape(SIGNS[found.status])}<br><span class="more">{escape(found.id)}</span></td>'
        f"<td><code>{where}</code></td><td>{escape(line['sentence'])}{more}</td></tr>"
    )


def _defaults(study: Study) -> str:
    rows = assumed(study)
    count = sum(row.count for row in rows)
    return (
        f'<section class="defaults"><h2>What was taken</h2><p>{count} values, of {len(rows)} kinds, were taken from defaults because the machine '
        f"file is silent about them. Each has a band that is part of the bands of the promises; the drawing board lists them with their sources. "
        f"A measured value in the file replaces its default.</p></section>"
    )


def _wrong(messages: list[str]) -> str:
    if not messages:
        return ""
    told = "".join(f"<li>{escape(message)}</li>" for message in messages)
    return f'<section class="wrong"><h2>The file as written makes no machine</h2><ul>{told}</ul><p>What follows is of the last machine that it made.</p></section>'  # fmt: skip
