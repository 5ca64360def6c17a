"""Places one machine step by step: ground, then every body on what carries it, then spindle, zero, joints."""

from collections.abc import Mapping
from typing import Any

from gantrywright.base.units import Array
from gantrywright.intake.geometry.frames import bounds
from gantrywright.intake.geometry.guide import Motion
from gantrywright.intake.placing import axes
from gantrywright.intake.placing.bodies import merged, place_body
from gantrywright.intake.placing.cabinets import place_cabinet
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.reach import reach_of, shifted, zero_of
from gantrywright.intake.placing.references import check_axis, check_loose
from gantrywright.intake.placing.spindles import Mounted, place_spindle, place_tool
from gantrywright.intake.placing.world import Placed, Unplaced, World
from gantrywright.intake.reading import Reading
from gantrywright.intake.recipes.making import Carried
from gantrywright.intake.recipes.slide import SlideMade
from gantrywright.model.bodies import Box, Link, Solid
from gantrywright.model.electric import SpindleFit, ToolFit
from gantrywright.model.frame import ZERO, Vector, add
from gantrywright.model.purpose import Purpose

LETTERS = ("x", "y", "z")
DRAWN = ("half", "half", "full")


class Builder:
    """Everything of one machine while it is placed."""

    def __init__(self, reading: Reading, purpose: Purpose, samples: Mapping[str, Array]) -> None:
        """Take the reading; `place` does the work."""
        self.reading = reading
        self.purpose = purpose
        self.doubts = Doubts(samples)
        self.world = World(reading, links=reading.links(), doubts=self.doubts)
        self.settings: dict[str, axes.Setting] = {}
        self.mounted: Mounted | None = None
        self.spindle: SpindleFit | None = None
        self.tool: ToolFit | None = None
        self.reach = Box(ZERO, ZERO)
        self.zero = ZERO
        self.cabinet: Solid | None = None
        self._slides: dict[str, SlideMade] = {}

    def place(self) -> None:
        """Place all bodies, drives, spindle and tool, and the zero."""
        for link in self.world.links:
            if link.on and link.on not in self.world.bodies:
                continue  # it hangs on something that failed
            try:
                self._body(link)
            except (Unplaced, KeyError):  # a KeyError: a key that is needed is missing or failed, told already
                self.world.unplaced.append(link.body)
        for name, setting in self.settings.items():
            if setting.motion.moving in self.world.bodies:
                self._finish_axis(name, setting)
        self._spindle()
        self.cabinet = self._cabinet()
        check_loose(self.world, [setting.branch for setting in self.settings.values()])
        self._zero()

    # ---- bodies

    def _body(self, link: Link) -> None:
        setting, guide, made = None, None, dict[str, Any]()
        origin = ZERO
        if link.axis:
            slide = self._slides.get(link.axis)
            setting = axes.setting_of(self.world, link, self.reading.letter(link.axis), self._drawn(link.axis), self.doubts, slide)
            place, guide = axes.origin_and_guide(self.world, setting)
            origin = add(self.world.bodies[link.on].origin, place)
            made = slide.moving if slide is not None else {}
        body = place_body(
            self.world, link, origin, Carried(guide), made=made, slides=self._slides_on, work_area=self.purpose.work_area
        )
        if link.on and not link.axis:
            body.origin = add(self.world.bodies[link.on].origin, body.branch.get("at") or ZERO)
        if setting is not None:
            axes.settle(self.world, setting)
            self.settings[link.axis] = setting

    def _drawn(self, axis: str) -> float:
        """Pose as drawn."""
        machine = self.reading.branch("machine")
        letter = self.reading.letter(axis)
        word = ((machine.get("drawn_at") if machine is not None else None) or DRAWN)[LETTERS.index(letter)]
        if not isinstance(word, str):
            return float(word)
        travel = self.reading.travel(axis)
        return {"zero": 0.0, "half": travel / 2, "full": travel}[word]

    def _slides_on(self, body: Placed) -> dict[str, Any]:
        """What slides that stand on a body add to it."""
        more: dict[str, Any] = {}
        for link in self.world.links:
            if link.axis and link.on == body.name and link.axis not in self._slides:
                slide = axes.slide_made(self.world, link.axis, self.reading.letter(link.axis))
                if slide is not None:
                    self._slides[link.axis] = slide
                    more = merged(more, slide.carrier)
        return more

    # ---- axes

    def _finish_axis(self, name: str, setting: axes.Setting) -> None:
        axes.place_drives(self.world, setting)
        try:
            axes.place_cable_chain(self.world, setting)
            check_axis(self.world, setting.branch)
            self.world.axes[name] = axes.axis_of(self.world, setting, self.purpose)
        except (Unplaced, KeyError):  # a KeyError: a key that is needed is missing or failed, told already
            self.world.unplaced.append(f"axis.{name}")

    @property
    def motions(self) -> tuple[Motion, ...]:
        """Every axis that was placed."""
        return tuple(setting.motion for setting in self.settings.values())

    # ---- tool and zero

    def _spindle(self) -> None:
        spindle, tool = self.reading.branch("spindle"), self.reading.branch("tool")
        if spindle is None:
            return
        try:
            self.mounted = place_spindle(self.world, spindle)
            self.spindle = self.mounted.spindle
            self.world.loose.extend(self.mounted.solids)
            if tool is not None:
                self.tool, cutter = place_tool(self.world, tool, self.mounted)
                self.world.loose.append(cutter)
        except Unplaced as error:
            self.world.unplaced.append(str(error))

    def _zero(self) -> None:
        chain = self.reading.chain
        ground = self.world.bodies.get(self.world.links[0].body) if self.world.links else None
        tip = self.tip_in_ground()
        work = self.world.bodies.get(chain.work)
        if ground is None or work is None or tip is None:
            return
        reach = reach_of(tip, self.motions)
        written = ground.branch.get("zero")
        self.zero = written if written is not None else zero_of(reach, self.purpose.work_area, self._table_height(work))
        self.reach = shifted(reach, self.zero)

    def tip_in_ground(self) -> Vector | None:
        """Tip of the tool as drawn, in the measures of the ground body; of a machine without tool or spindle the tool body's origin."""
        if self.mounted is None:
            body = self.world.bodies.get(self.reading.chain.tool)
            return body.origin if body is not None and self.reading.branch("spindle") is None else None
        nose = self.tool.tip if self.tool is not None else self.mounted.nose
        return self.world.in_ground(self.mounted.body, nose)

    def _table_height(self, work: Placed) -> float:
        """Upper face of what the work lies on, in the measures of the ground body: of the top, else of the highest bar or plate."""
        solids = work.layers or [s for s in work.solids.values() if s.kind in ("member", "plate")]
        return bounds(solids)[1][2] + work.origin[2] if solids else work.origin[2]

    def _cabinet(self) -> Solid | None:
        """The cabinet's box on its body; its mass where the file says it, else of its walls."""
        branch = self.reading.branch("cabinet")
        if branch is None or branch.get("at") is None or branch.get("size") is None:
            return None
        try:
            return place_cabinet(self.world, branch, self.world.links[0].body)
        except Unplaced as error:
            self.world.unplaced.append(str(error))
            return None
