"""``gantrywright new``: a first machine file by flags, by questions, or by usual answers."""

import argparse
import sys
from pathlib import Path

from gantrywright.base.errors import NotFound, Unwritable
from gantrywright.base.files import write_new
from gantrywright.base.names import nearest_sentence
from gantrywright.catalog.tables import Catalog
from gantrywright.intake.starter import Answers, starter_text

QUESTIONS = (
    ("layout", "What moves along the bed, the gantry or the table? (moving-gantry, fixed-gantry)"),
    ("work_area", 'What must the tip reach, x, y, z? (such as "600 x 900 x 100 mm" or "24 x 36 x 4 in")'),
    ("material", "What is cut most? (plywood-birch, mdf, al-6082, maple-hard ...; see: gantrywright parts material)"),
    ("units", "Units of what is printed? (metric, inch)"),
    ("outlet", 'Wall outlet? (such as "230 V" or "120 V")'),
)
USUAL = ("plywood-birch", "mdf", "maple-hard", "al-6082", "brass")
"""Materials to name where one is not known."""
SHOP = """format = 1
# What is at hand in the shop and belongs to no machine yet. A machine takes a piece with stock = "NAME".
[shop]
name = "My workshop"

[person.me]
lifts = "20 kg"                                     # what this person may lift
"""


def run(given: argparse.Namespace) -> int:
    """Write the files; nothing that exists is overwritten."""
    target = given.dir / "machine.toml"
    if target.exists():
        raise Unwritable(f"{target} is there already and is left as it is; choose another folder")
    answers = _answers(given)
    _judge_material(answers.material)
    text = starter_text(answers)
    write_new(target, text)
    shop = given.dir / "shop.toml"
    kept = shop.exists()
    if not kept:
        write_new(shop, SHOP)
    print(f"wrote {target}\n{shop} was there and is kept" if kept else f"wrote {target} and {shop}")
    print(
        f"from these answers: {', '.join(f'{key} = {getattr(answers, key)}' for key, _ in QUESTIONS)}\nnext: gantrywright check {target}"
    )
    return 0


def _judge_material(name: str) -> None:
    """Told before anything is written."""
    catalog = Catalog()
    if not catalog.find("material", name).text("shear_force"):
        cut = [row.id for row in catalog.rows("material") if row.text("shear_force")]
        raise NotFound(
            f"the tables have no cutting figures of {name!r}{nearest_sentence(name, cut)}; some that are cut: {', '.join(USUAL)}"
        )


def _answers(given: argparse.Namespace) -> Answers:
    usual = Answers(name=given.name or Path(given.dir).name.replace("-", " "))
    said = {"name": usual.name}
    asking = not given.yes and sys.stdin.isatty()
    for key, question in QUESTIONS:
        flag = getattr(given, key)
        said[key] = flag or (_ask(question, getattr(usual, key)) if asking else getattr(usual, key))
    return Answers(**said)


def _ask(question: str, usual: str) -> str:
    try:
        return input(f"{question}\n  [{usual}] ").strip() or usual
    except EOFError:
        return usual
