"""A bought slide in place of rails, blocks and screw; and one more axis, which is a bought slide with a body of its own."""

from collections.abc import Iterator

from gantrywright.catalog.tables import Catalog, Row
from gantrywright.intake.fields import standing
from gantrywright.intake.fields.choices import rows_beside
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.layouts import other_layouts
from gantrywright.intake.fields.places import table_of
from gantrywright.intake.fields.records import Addable, Edit
from gantrywright.intake.grammar import LAYOUTS

MADE = frozenset(
    {
        "kind",
        "part",
        "offset",
        "length",
        "ends",
        "from",
        "to",
        "beside",
        "shift",
        "nut",
        "turns",
        "runs",
        "price",
        "on",
        "grip_on",
        "seats",
    }
)
"""Keys of a drive that tell of the screw, which the slide brings."""


def instead(force: Force, axis: str) -> Iterator[Addable]:
    """A slide long enough for the travel of the axis, on the part and the face that its rails lie on."""
    raw = table_of(force.raw(f"axis.{axis}"))
    drives = {name: table_of(own) for name, own in table_of(raw.get("drive")).items()}
    link = next((link for link in force.machine.links if link.axis == axis), None) if force.machine is not None else None
    if "slide" in raw or link is None or len(drives) != 1 or force.machine is None:
        return
    rail = next(iter(force.machine.axis(axis).rails), None)
    row = _long_enough(rows_beside(force.document), force.machine.axis(axis).travel)
    face = _face(force, axis)
    if rail is None or row is None or rail.body != link.on or not face:
        return
    (name, drive), slide = next(iter(drives.items())), f"axis.{axis}.slide"
    gone = [f"axis.{axis}.{below}" for below in ("rail", "blocks", "block") if below in raw]
    gone += [f"axis.{axis}.drive.{name}.{key}" for key in drive if key in MADE]
    made: tuple[Edit, ...] = ((f"{slide}.part", row.id), (f"{slide}.on", standing.short(rail.on)), (f"{slide}.face", face))
    yield Addable(f"bought slide {row.id} instead of rails, blocks and screw", (*((path, None) for path in gone), *made))


def one_more(force: Force) -> Iterator[Addable]:
    """One more axis: a head of its own, on a slide, on the body that carries the tool's last axis."""
    if force.machine is None:
        return
    head = next((link for link in force.machine.links if link.body == force.machine.tool_body), None)
    motor = next((drive for axis in force.machine.axes for drive in axis.drives if axis.name == (head.axis if head else "")), None)
    if head is None or motor is None or motor.motor is None:
        return
    old = f"axis.{head.axis}"
    named = {key: force.raw(f"{motor.path}.{key}") or force.raw(f"{old}.drive.each.{key}") for key in ("motor", "driver", "supply")}
    named = {key: raw if isinstance(raw, str) else table_of(raw).get("part") for key, raw in named.items()}
    row = _long_enough(rows_beside(force.document), 0.0)
    face = _face(force, head.axis) or "front"
    if row is None or not all(isinstance(name, str) for name in named.values()):
        return
    axis, body = _free(force, f"{head.axis[:1]}", table_of(force.raw("axis"))), _free(force, "slide-body-", force.document.tree)
    inch = force.system == "inch"
    chain = (
        next((each.edits for each in other_layouts(force) if each.words.startswith("the chain")), ()) if _by_layout(force) else ()
    )
    new = f"axis.{axis}"
    yield Addable(
        f"another axis {axis.upper()}: a body of its own on a bought slide",
        (
            *chain, (f"chain.{body}.on", head.on), (f"chain.{body}.axis", axis), (f"{new}.travel", "3 in" if inch else "80 mm"),
            (f"{new}.slide.part", row.id), (f"{new}.slide.on", standing.short(standing.largest(force, head.on))), (f"{new}.slide.face", face),
            *((f"{new}.drive.main.{key}", str(name)) for key, name in named.items()),
            (f"{body}.recipe", "plate-on-blocks"), (f"{body}.size", "6 x 8 x 5/8 in" if inch else "150 x 200 x 15 mm"),
            (f"{body}.material", "al-6061" if inch else "al-6082"),
        ),
    )  # fmt: skip


def _by_layout(force: Force) -> bool:
    return bool(LAYOUTS.get(str(force.raw("machine.layout"))))


def _long_enough(catalog: Catalog, travel: float) -> Row | None:
    """The shortest slide of that travel."""
    rows = [row for row in catalog.rows("slide") if row.cells["travel"].value >= travel - 1e-9]
    return min(rows, key=lambda row: row.cells["travel"].value, default=None)


def _face(force: Force, axis: str) -> str:
    """The face that the rails of an axis lie on."""
    if force.machine is None:
        return ""
    faces = (force.machine.stated.get(f"{rail.path}.face") for rail in force.machine.axis(axis).rails)
    texts = (found.origin.text or found.value for found in faces if found is not None)
    return next((text for text in texts if isinstance(text, str)), "")


def _free(force: Force, stem: str, taken: object) -> str:
    known = set(table_of(taken)) | set(force.places.bodies)
    return next(f"{stem}{number}" for number in range(2, 100) if f"{stem}{number}" not in known)
