"""Mistakes of builders, each told once: by path and line, with what to write or the nearest names."""

from pathlib import Path

import pytest
from helper_reading import MADE, read_whole, told, with_changes

from gantrywright.base.errors import FileProblems

L, S, F = "long_bed", "salvaged", "fixed_gantry"

MISTAKES: list[tuple[str, str, str, str, str, tuple[str, ...]]] = [
    # file, text, mistake, path told, a text of its line, words told
    # ---- units and numbers
    (L, 'travel = "3000 mm"', 'travel = "3000"', "axis.y.travel", "travel", ("unit",)),
    (L, 'travel = "3000 mm"', "travel = 3000", "axis.y.travel", "travel", ("unit",)),
    (L, 'travel = "3000 mm"', 'travel = "3000 kg"', "axis.y.travel", "travel", ("length",)),
    (L, 'travel = "3000 mm"', 'travel = "1,5 m"', "axis.y.travel", "travel", ("comma",)),
    (L, 'travel = "3000 mm"', 'travel = "1,200 mm"', "axis.y.travel", "travel", ("1,200",)),
    (L, 'travel = "3000 mm"', 'travel = "3000 mn"', "axis.y.travel", "travel", ("mm",)),
    (L, 'travel = "3000 mm"', "travel = true", "axis.y.travel", "travel", ("a length",)),
    (L, 'travel = "3000 mm"', 'travel = "unknown"', "axis.y.travel", "travel", ("cannot be unknown",)),
    (L, 'travel = "3000 mm"', 'travel = ["3000 mm"]', "axis.y.travel", "travel", ("a list",)),
    (L, 'travel = "3000 mm"', 'travel = { length = "3000 mm" }', "axis.y.travel", "travel", ("found a table",)),
    (L, 'pretension = "700 N (500..900)"', 'pretension = "700 lb"', "axis.y.drive.main.pretension", "pretension", ("lbf",)),
    (L, 'pretension = "700 N (500..900)"', 'pretension = "700 N (900..500)"', "axis.y.drive.main.pretension", "pretension", ("900..500",)),
    (L, 'current = "5.2 A peak"', 'current = "5.2 A"', "axis.y.drive.main.driver.current", "driver", ("peak", "rms")),
    (L, 'from = "-300, 300, 40 mm"', 'from = "-300 300 40 mm"', "bed.member.foot-bar.from", "foot-bar", ("-300 300 40 mm",)),
    (L, 'from = "-300, 300, 40 mm"', 'from = "-300, 300 mm"', "bed.member.foot-bar.from", "foot-bar", ("-300, 300 mm",)),
    (L, 'size = "180 x 290 x 12 mm"', 'size = "180 x 290 mm"', "carriage.size", "size", ("180 x 290 mm",)),
    (L, 'size = "180 x 290 x 12 mm"', 'size = "180 x 290 x 12"', "carriage.size", "size", ("unit",)),
    (L, 'bolts = "4 x M8"', 'bolts = "four M8"', "joint.beam-left.bolts", "beam-left", ("four M8",)),
    (L, 'ambient = "18 °C (8..28)"', 'ambient = "18 C (8..x)"', "site.ambient", "ambient", ("'x'",)),
    (L, "per_rail = 2\nspacing = \"240 mm\"", "per_rail = 2.5\nspacing = \"240 mm\"", "axis.y.blocks.per_rail", "2.5", ("whole number",)),
    (L, "on = 2026-02-12 }", 'on = "2026-02-12" }', "measured.gantry-weighed.on", "gantry-weighed", ("date",)),
    (L, 'material = "al-6082"\nmade', 'material = ""\nmade', "gantry.plate.base.material", 'material = ""', ("empty",)),
    (L, 'travel = "120 mm"', 'travel = "-120 mm"', "axis.z.travel", "-120 mm", ("cannot be negative",)),
    (L, 'length = "280 mm"', 'length = "0 mm"', "axis.z.rail.each.length", '"0 mm"', ("cannot be zero",)),
    (L, 'size = "140 x 200 x 12 mm"', 'size = "140 x 0 x 12 mm"', "head.size", "140 x 0", ("above zero",)),
    # ---- amounts that must be there, or have an end
    (F, "ratio = 1.5", "ratio = 0", "axis.y.drive.main.reduction.ratio", "ratio = 0", ("cannot be zero", "greater than 0")),
    (L, 'current = "5.2 A peak"', 'current = "0 A peak"', "axis.y.drive.main.driver.current", "0 A peak", ("cannot be zero", "a current")),
    (L, 'motor = { part = "stepper-23-76"', 'motor = { part = "stepper-23-76", holding = "0 oz in"', "axis.x.drive.main.motor.holding", "0 oz in", ("cannot be zero",)),
    (L, 'motor = { part = "stepper-23-76"', 'motor = { part = "stepper-23-76", inductance = "0 mH"', "axis.x.drive.main.motor.inductance", "0 mH", ("cannot be zero",)),
    (L, 'accuracy = "0.3 mm"', 'accuracy = "0 in"', "purpose.accuracy", "0 in", ("cannot be zero",)),
    (L, 'rapid = "15 m/min"', 'rapid = "1e6 m/min"', "purpose.rapid", "1e6", ("cannot be more than 1200 m/min (47200 in/min)",)),
    (L, 'stick_out = "38 mm"', 'stick_out = "38 m"', "tool.stick_out", "38 m", ("cannot be more than 500 mm",)),
    (L, 'accuracy = "0.3 mm"', 'accuracy = "1e9 m"', "purpose.accuracy", "1e9 m", ("cannot be more than 25 mm (0.984 in)", "greater than 0, 25 mm")),
    (L, 'accuracy = "0.3 mm"', "accuracy = '24\"'", "purpose.accuracy", "24", ("cannot be more than 25 mm",)),
    (L, 'travel = "3000 mm"', 'travel = "3000 m"', "axis.y.travel", "3000 m", ("cannot be more than 50 m (164 ft)",)),
    (L, 'work_area = "600 x 3000 x 90 mm"', 'work_area = "600 x 3000 x 90 m"', "purpose.work_area", "90 m", ("cannot be more than 50 m",)),
    (L, "per_rail = 2", "per_rail = 0", "axis.y.blocks.per_rail", "per_rail = 0", ("cannot be zero",)),
    (L, 'driver = { part = "driver-50v-5a"', 'driver = { part = "driver-50v-5a", remaining = 8', "axis.x.drive.main.driver.remaining", "remaining = 8", ("cannot be more than 1", "greater than 0, 1 at most")),
    (L, 'work_area = "600 x 3000 x 90 mm"', 'work_area = "0 x 3000 x 90 mm"', "purpose.work_area", "0 x 3000", ("above zero",)),
    (L, "start_factor = 5", "start_factor = 0", "site.load.extractor.start_factor", "start_factor = 0", ("cannot be zero",)),
    (L, 'name = "Spar bench"', 'name = "Spar bench"\nshop = "other.toml"', "machine.shop", "other.toml", ("no file 'other.toml'",)),
    # ---- keys, tables and words
    (L, 'accuracy = "0.3 mm"', 'acuracy = "0.3 mm"', "purpose.acuracy", "acuracy", ("no key 'acuracy'", "nearest: accuracy")),
    (L, "[tool]", "[tol]", "tol", "[tol]", ("no table 'tol'", "tool")),
    (L, "[axis.x.blocks]", "[axis.x.bloks]", "axis.x.bloks", "bloks", ("nearest: block",)),
    (L, 'normal = "top"', 'normal = "up"', "gantry.plate.base.normal", "normal", ("no direction", "left, right")),
    (L, 'kind = "belt"\npart = "belt-5m-16-steel"', 'kind = "timing-belt"\npart = "belt-5m-16-steel"', "axis.x.drive.main.kind", "timing-belt", ("belt",)),
    (L, 'recipe = "plate-on-blocks"\nsize = "140', 'recipe = "plate-on-block"\nsize = "140', "head.recipe", "plate-on-block", ("nearest: plate-on-blocks",)),
    (L, 'layout = "moving-gantry"', 'layout = "moving gantry"', "machine.layout", "layout", ("moving-gantry",)),
    (L, "[gantry.plate.base]", "[gantry.plate.base_plate]", "gantry.plate.base_plate", "base_plate", ("letters, digits and hyphens",)),
    (L, "[bed.member]\n", '[bed.member]\nsection = "tslot-80x80-light"\n', "bed.member.section", 'section = "tslot-80x80-light"', ("each",)),
    (L, 'face = "top", joined_at', 'face = "upper", joined_at', "axis.y.rail.each.face", "upper", ("no face", "axis.y.rail.left", "axis.y.rail.right")),
    # ---- what is said of a part, said of a body
    (L, "[carriage]\n", '[carriage]\nmass = "50 lb"\n', "carriage.mass", "50 lb", ("no key 'mass'", 'observe = "mass"')),
    (L, "[bed]\n", '[bed]\nmass = "unknown"\n', "bed.mass", "unknown", ('observe = "mass"',)),
    (L, "[carriage]\n", "[carriage]\nremaining = 0.5\n", "carriage.remaining", "0.5", ("that part's own table",)),
    (L, "[bed]\n", "[bed]\nowned = true\n", "bed.owned", "owned", ("only a recipe hands it", "this body is listed")),
    # ---- names of parts and things
    (L, 'section = "tslot-80x160-heavy"', 'section = "tslot-80x160-havy"', "bed.member.spine.section", "havy", ("tslot-80x160-heavy",)),
    (L, 'motor = { part = "stepper-23-56"', 'motor = { part = "block-15-flange"', "axis.z.drive.main.motor.part", "block-15-flange", ("is a block",)),
    (L, 'supply = "drives"\n[carriage]', 'supply = "drive"\n[carriage]', "axis.x.drive.main.supply", 'supply = "drive"', ("nearest: drives",)),
    (L, 'stock = "profile-160-long"', 'stock = "profile-160-lng"', "bed.member.spine.stock", "lng", ("profile-160-long",)),
    (L, 'outlet = "wall"\nmount', 'outlet = "wal"\nmount', "spindle.outlet", 'outlet = "wal"', ("nearest: wall",)),
    (L, 'with = "dial-0-01", on = 2026-02-22 }', 'with = "dial-0-1", on = 2026-02-22 }', "measured.pull-x.with", "pull-x", ("dial-0-01",)),
    (L, 'along = "x", at = "300', 'at = "300', "measured.pull-x", "pull-x", ("lacks along",)),
    (L, 'along = "x", at = "300', 'along = "askew", at = "300', "measured.pull-x.along", "askew", ("no direction", "left, right")),
    (L, 'value = "0.08 N/um +- 0.012 N/um"', 'value = "-0.08 N/um"', "measured.pull-x.value", "-0.08", ("negative", "greater than 0")),
    (L, 'value = "9.5 Hz +- 0.5 Hz"', 'value = "9.5 N/um"', "measured.sway.value", "9.5 N/um", ("frequency is wanted",)),
    (L, 'material = "red-cedar"', 'material = "read-cedar"', "job.paddle-blade.material", "read-cedar", ("red-cedar",)),
    (L, 'mirror = "tie-left"', 'mirror = "tie-lft"', "bed.member.tie-right.mirror", "tie-lft", ("nearest: tie-left",)),
    (L, 'path = "supply.drives.set"', 'path = "supply.drivs.set"', "measured.bus.path", "drivs", ("drives",)),
    (L, 'path = "supply.drives.set"', 'path = "supply.drives.sett"', "measured.bus.path", "sett", ("nearest: set",)),
    (L, 'path = "supply.drives.set", value = "47.2 V', 'path = "supply.drives.set", value = "47.2 A', "measured.bus.value", "47.2 A", ("voltage",)),
    (L, "[bed.foot]\n", "[bed.foot]\nspare = { remove = true }\n", "bed.foot.spare", "spare", ("removed",)),
    # ---- missing and doubled facts
    (L, 'name = "Spar bench"\n', "", "machine", "[machine]", ("lacks name",)),
    (L, 'stick_out = "38 mm"\n', "", "tool", "[tool]", ("lacks stick_out",)),
    (L, 'rules = "IEC"\n', "", "site", "[site]", ("lacks rules",)),
    (L, 'spacing = "75 mm"\n', "", "axis.z.blocks", "[axis.z.blocks]", ("lacks spacing",)),
    (L, 'pulley = { part = "pulley-5m-20" }\n', "", "axis.x.drive.main", "[axis.x.drive.main]", ("lacks pulley",)),
    (L, 'length = "820 mm"', 'length = "820 mm"\nfrom = "0, 0, 0 mm"\nto = "820, 0, 0 mm"', "axis.x.drive.main", "[axis.x.drive.main]", ("both offset/length and from/to",)),
    (L, 'offset = "0, 40, 60 mm"\n', "", "axis.x.drive.main", "[axis.x.drive.main]", ("lacks offset",)),
    (L, 'middle = "0 mm"\n', "", "bed.middle", "[bed]", ("mirror needs",)),
    (L, "[axis.z]", "[axis.w]", "axis.w", "", ("moves no body",)),
    (L, "post-front-right = { mirror = \"post-front-left\" }", "post-front-rigth = { up = \"back\" }", "bed.member.post-front-rigth", "rigth", ("lacks from, to",)),
    (F, "[carriage.plate.plate]", "[carriage.plate.plat]", "carriage.plate.plat", "plat]", ("lacks size, normal, at, material", "the plate-on-blocks made plate")),
    (F, 'at = "0, 37, 0 in"\n', "", "gantry", "[gantry]", ("lacks at", "bolted to 'bed'")),
    (F, 'stance = "36 in"\n', "", "gantry", "[gantry]", ("lacks stance",)),
    (F, 'outlet.dryer = { voltage = "240 V", current = "30 A", phases = 1 }', 'outlet.dryer = { current = "30 A" }', "site.outlet.dryer", "dryer", ("lacks voltage",)),
(L, 'size = "140 x 200 x 12 mm"', 'size = "140 x 200 x 12 mm"\nstance = "1 m"', "head.stance", "stance", ("goes with recipe = portal",)),
    (L, 'part = "belt-5m-16-steel"', 'part = { part = "belt-5m-16-steel", lead = "5 mm" }', "axis.x.drive.main.part.lead", "lead", ("a belt has no field 'lead'",)),
    (L, 'motor = { part = "stepper-23-76", owned = true }', 'motor = { holding = "2 N m" }', "axis.x.drive.main.motor", "motor", ("lacks part", "its type")),
    (L, 'budget = "2900 EUR"', 'budget = "2900 GBP"', "purpose.budget", "budget", ("no rate for GBP",)),
    # ---- rings and stock
    (S, 'leg-right = { mirror = "leg-left" }', 'leg-right = { mirror = "leg-other" }\nleg-other = { mirror = "leg-right" }', "bed.member.leg-other.mirror", "leg-other = ", ("ring",)),
    (S, 'length = "2000 mm", face', 'length = "2300 mm", face', "axis.y.rail.left", "left =", ("2300 mm", "rail-20-donor", "2240 mm")),
    (S, 'right = { on = "bed.strip-right", price', 'right = { on = "bed.strip-right", stock = "rail-20-donor", price', "axis.y.rail.right", "right =", ("of which there is 1", "axis.y.rail.left, axis.y.rail.right")),
    (S, 'size = "230 x 330 x 15 mm"', 'size = "230 x 430 x 15 mm"', "carriage.plate.plate", "", ("plate-15-offcut",)),
    (S, '[axis.y.block]\nleft =', '[axis.y.block]\nlft =', "axis.y.block.lft", "lft", ("nearest: left",)),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "text", "mistake", "path", "line", "words"), MISTAKES, ids=[f"{m[3]}: {m[2][:40]}" for m in MISTAKES]
)
def test_a_mistake_is_told_once_at_its_line(
    tmp_path: Path, name: str, text: str, mistake: str, path: str, line: str, words: tuple[str, ...]
) -> None:
    file, changed = with_changes(tmp_path, name, (text, mistake))
    made = dict(MADE[name])
    if name == "salvaged":
        size = "230 x 430 x 15 mm" if "430" in mistake else "230 x 330 x 15 mm"
        made["carriage"] = {"plate": {"plate": {"size": size, "normal": "front", "at": "0, 0, 0 mm", "material": "al-6082"}}}
    problems = read_whole(file, made).problems
    assert len(problems) == 1, told(problems)
    problem = problems[0]
    assert problem.path == path, problem
    for word in words:
        assert word in problem.message, problem
    if line:
        assert line in changed.splitlines()[problem.line - 1], problem
    assert problem.file == str(file)


def test_there_are_enough_mistakes() -> None:
    assert len(MISTAKES) >= 40
    assert len({mistake[:3] for mistake in MISTAKES}) == len(MISTAKES)


def test_all_mistakes_of_a_file_are_told_together(tmp_path: Path) -> None:
    chosen = [
        m
        for m in MISTAKES
        if m[0] == L
        and m[3] in ("purpose.acuracy", "spindle.outlet", "head.recipe", "measured.bus.value", "job.paddle-blade.material")
    ]
    assert len(chosen) == 5
    file, _ = with_changes(tmp_path, L, *((m[1], m[2]) for m in chosen))
    problems = read_whole(file).problems
    assert {problem.path for problem in problems} == {m[3] for m in chosen}
    assert [problem.line for problem in problems] == sorted(problem.line for problem in problems)


def test_a_mistake_in_the_shop_file_names_that_file(tmp_path: Path) -> None:
    file, _ = with_changes(tmp_path, L, shop=(('length = "1980 mm"', 'lenght = "1980 mm"'),))
    problems = read_whole(file).problems
    assert [(Path(p.file).name, p.path) for p in problems] == [("shop.toml", "stock.rail-20-pair.lenght")]
    assert "length" in problems[0].message


def test_a_mistake_in_the_users_tables_names_that_file(tmp_path: Path) -> None:
    file, _ = with_changes(tmp_path, L)
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "coupling.csv").write_text(
        "id,title,source,basis,stiffnes [N m/rad]\nmine,Mine,from memory,measured,77\n"
    )
    problems = read_whole(file).problems
    assert len(problems) == 1
    assert problems[0].file.endswith("coupling.csv")


@pytest.mark.parametrize(
    ("content", "line", "words"),
    [
        (b"format = 1\n[machine]\nname = \xff\n", 3, "UTF-8"),
        (b"format = 1\n[machine\n", 2, "write [machine]"),
        (b"format = 1\nx = \"1\"\nx = \"2\"\n", 3, "x stands twice, first in line 2"),
        (b"[machine]\nname = \"a\"\n", 1, "format = 1"),
        (b"# new\nformat = 9\n", 2, "format 9"),
        (b"format = \"1\"\n", 1, "no format"),
        (None, 0, "cannot be read"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_read_is_one_problem(tmp_path: Path, content: bytes | None, line: int, words: str) -> None:
    file = tmp_path / "router.toml"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(FileProblems) as caught:
        read_whole(file)
    (problem,) = caught.value.problems
    assert (problem.file, problem.line) == (str(file), line)
    assert words in problem.message
