"""The jobs of a machine out of the tree: what is cut, with what, how it is held, and the board under it.

Branches are whole, as in `records`.
"""

from gantrywright.base.errors import NotFound
from gantrywright.base.spread import Spread
from gantrywright.base.units import Metre, Real
from gantrywright.catalog import kinds
from gantrywright.catalog.tables import record_of
from gantrywright.intake import usual_hold
from gantrywright.intake.edge_wear import edge_factors
from gantrywright.intake.job_widths import width_of
from gantrywright.intake.reading import Reading
from gantrywright.intake.records import Estimate, typical_of
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record
from gantrywright.model.purpose import HoldDown, Job, Spoilboard, Tabs, Workpiece


def jobs(reading: Reading, estimate: Estimate = typical_of) -> tuple[Job, ...]:
    """All kinds of cut; those without a share divide what the others leave.

    Args:
        reading: The machine file.
        estimate: Takes note of what neither file nor row says.
    """
    group = reading.branch("job")
    if group is None:
        return ()
    given = [branch["share"] for branch in group.branches.values() if branch.has("share")]
    silent = len(group.branches) - len(given)
    rest: Real = (1.0 - sum(given)) / silent if silent else 0.0
    found = (_job(name, branch, reading, rest, estimate) for name, branch in group.branches.items())
    return tuple(job for job in found if job is not None)


def _job(name: str, branch: Branch, reading: Reading, rest: Real, estimate: Estimate) -> Job | None:
    if branch["material"] is None:
        reading.problem(f"{branch.path}.material", "cannot be unknown: forces and speeds follow from it")
        return None
    material = reading.material(branch["material"], f"{branch.path}.material")
    tool = reading.branch("tool")
    own = branch.sub("cutter")
    cutter = record(own if own is not None else tool.sub("cutter") if tool is not None else None, kinds.Cutter)
    stick_out = branch.get("stick_out", tool.get("stick_out") if tool is not None else None)
    for word, found in (("cutter", cutter), ("stick_out", stick_out)):
        if found is None:
            reading.problem(branch.path, f"lacks {word}, and there is no [tool] to take it from")
    if material is None or cutter is None or stick_out is None:
        return None
    wanted = reading.branch("purpose")
    feed = branch.get("feed", wanted["feed"] if wanted is not None else None)
    width = width_of(branch, cutter, reading)
    if width is None:
        return None
    return Job(
        name=name,
        material=material,
        cutter=cutter,
        stick_out=stick_out,
        slot=branch["slot"],
        depth=branch["depth"],
        width=width,
        feed=feed,
        plunge=branch.get("plunge", feed / 3),
        speed=branch["speed"],
        passes=branch["passes"],
        way=_either(branch, "way", "both"),
        share=branch.get("share", rest),
        hold_down=hold_down(branch.sub("hold_down"), reading, material.group, estimate),
        note=branch.get("note", ""),
        work=workpiece(branch.sub("work")),
        grain=_either(branch, "grain", "all"),
        run_out=branch.get("run_out", _run_out(reading)),
        edge=(_words(branch, "edge") or ("used",))[0],
        edge_factor=_edge_factor(branch, estimate),
        cutter_material=reading.material(cutter.material, f"{branch.path}.cutter.material") if cutter.material else None,
    )


def _run_out(reading: Reading) -> Metre | None:
    """Of the spindle's part; None where it is unknown."""
    spindle = reading.branch("spindle")
    part = spindle.sub("part") if spindle is not None else None
    return part.get("run_out") if part is not None else None


def _edge_factor(branch: Branch, estimate: Estimate) -> Real:
    written: Real | None = branch.get("edge_factor")
    if written is not None:
        return written
    bands = [edge_factors()[edge] for edge in _words(branch, "edge") or ("used",)]
    (usual, origin), spreads = bands[0], [spread for spread, _ in bands]
    whole = Spread(min(spread.low for spread in spreads), usual.typical, max(spread.high for spread in spreads))
    return estimate(f"{branch.path}.edge_factor", whole, origin)


def _words(branch: Branch, key: str) -> tuple[str, ...]:
    """The words of a choice, the likeliest first; none where it is unknown. They are the same in every sample."""
    entry = branch.entries.get(key)
    if entry is None or entry.value is None:
        return ()
    return entry.spread.choices if entry.spread is not None else (entry.value,)


def _either(branch: Branch, key: str, all_of_them: str) -> str:
    """The word of a choice; where it is unknown or in doubt, the one that stands for all."""
    words = _words(branch, key)
    return words[0] if len(words) == 1 else all_of_them


def workpiece(branch: Branch | None) -> Workpiece | None:
    """The piece that is cut; None where the file does not say."""
    if branch is None or branch.get("size") is None or branch.get("at") is None:
        return None
    return Workpiece(branch["size"], branch["at"])


def hold_down(branch: Branch | None, reading: Reading, group: str, estimate: Estimate = typical_of) -> HoldDown | None:
    """How the work is held; None where the file does not say.

    Args:
        branch: Of the hold.
        reading: The machine file.
        group: Of the material of the work.
        estimate: Takes note of what the file does not say of it.
    """
    words = _words(branch, "kind") if branch is not None else ()
    if branch is None or not words:
        return None
    under = reading.branch("spoilboard")
    tabs = branch.sub("tabs")
    return HoldDown(
        kind=words[0],
        area=branch.get("area"),
        pressure=branch.get("pressure") if words[0] == "vacuum" else None,
        count=branch.get("count"),
        force=branch.get("force"),
        friction=usual_hold.friction(branch, words[0], group, estimate),
        torque=branch.get("torque"),
        thread=_thread(branch, reading),
        nut_factor=usual_hold.nut_factor(branch, words[0], estimate),
        screw_diameter=branch.get("screw_diameter"),
        screw_depth=branch.get("screw_depth"),
        pump_pressure=branch.get("pump_pressure"),
        pump_flow=branch.get("pump_flow"),
        board=branch.get("board", under.get("thickness") if under is not None else None),
        leak=branch.get("leak"),
        strength=usual_hold.strength(branch, words[0], estimate),
        safety=branch["safety"],
        tabs=Tabs(tabs["count"], tabs.get("width"), tabs.get("thickness")) if tabs is not None else None,
    )


def _thread(branch: Branch, reading: Reading) -> kinds.Thread | None:
    name = branch.get("thread")
    if not name:
        return None
    try:
        found = record_of(reading.catalog.find("thread", name))
    except NotFound as error:
        reading.problem(f"{branch.path}.thread", str(error))
        return None
    assert isinstance(found, kinds.Thread)
    return found


def spoilboard(reading: Reading) -> Spoilboard | None:
    """The board under the work; None where the file has none."""
    branch = reading.branch("spoilboard")
    if branch is None:
        return None
    cutter = record(branch.sub("cutter"), kinds.Cutter)
    usual = cutter.diameter / 2 if cutter is not None and cutter.diameter is not None else None
    named = branch.get("material")
    return Spoilboard(
        thickness=branch.get("thickness"),
        material=reading.material(named, "spoilboard.material") if named else None,
        cutter=cutter,
        step_over=branch.get("step_over", usual),
        tram_across=branch.get("tram_across"),
        tram_along=branch.get("tram_along"),
        unevenness=branch.get("unevenness"),
        least=branch.get("least"),
        span=branch.get("span"),
    )
