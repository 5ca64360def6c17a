"""Opening figures and values: origins in words, users, places of findings, defaults."""

from pathlib import Path

import pytest

from gantrywright.base.errors import NotFound
from gantrywright.cli.opened import show_opened
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.assumed import assumed
from gantrywright.study.export import export
from gantrywright.study.opened import opened
from gantrywright.study.study import Study, run
from gantrywright.study.words import origin_in_words

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "src" / "gantrywright" / "data" / "demo"
MACHINES = ROOT / "tests" / "machines"


def study_of(path: Path) -> Study:
    return run(resolve(read_document(path)))


@pytest.fixture(scope="module")
def built() -> Study:
    return study_of(DEMO / "as-built.toml")


@pytest.fixture(scope="module")
def long_bed() -> Study:
    return study_of(MACHINES / "long_bed.toml")


def line_of(path: Path, text: str) -> int:
    """Line of the first line that starts with a text."""
    return next(number for number, line in enumerate(path.read_text("utf-8").splitlines(), 1) if line.startswith(text))


def origin(study: Study, path: str) -> str:
    known = study.machine.stated
    return origin_in_words(known[path], known, study.machine.show)


# ---- origins


def test_a_measured_value_names_what_it_replaced(long_bed: Study) -> None:
    file = MACHINES / "long_bed.toml"
    later, first = line_of(file, "y-tension-later"), line_of(file, "y-tension =")
    words = origin(long_bed, "axis.y.drive.main.pretension")
    assert words.startswith(
        f"540 N +- 60 N (measured 2026-06-02, phone, file long_bed.toml:{later}), was 610 N +- 60 N (measured 2026-02-20, phone, "
        f"span 1.2 m, 51 Hz, file long_bed.toml:{first}), was 700 N (500..900) (file long_bed.toml:"
    )
    assert opened(long_bed, "axis.y.drive.main.pretension").value["source"] == "own measurement"  # type: ignore[index]


def test_words_of_every_kind_of_origin(built: Study) -> None:
    line = line_of(DEMO / "as-built.toml", 'length = "1700 mm"')
    assert origin(built, "axis.y.drive.left.length") == f"1700 mm (file as-built.toml:{line})"
    assert origin(built, "axis.y.drive.right.length").startswith(
        "1700 mm (as axis.y.drive.left.length, mirrored, file as-built.toml:"
    )
    assert origin(built, "axis.y.rail.left.length").startswith("1640 mm (of each, file as-built.toml:")
    assert origin(built, "bed.member.left-side.owned").startswith("True (made by the recipe")
    assert origin(built, "axis.y.blocks.part.static") == "27 kN (25..30) (row block-20-flange of block.csv:3)"
    assert origin(built, "axis.y.blocks.stiffness.normal") == "190 N/um (130..270) (default, block-stiffness.csv size 20, light)"
    assert origin(built, "axis.x.rapid").startswith("wanted of the whole machine: purpose.rapid is 8 m/min (file as-built.toml:")
    assert origin(built, "bed.left-side.mass") == "mass per length of its section x 1900 mm"


@pytest.mark.parametrize(
    ("path", "full"),
    [
        ("axis.y.block.left-1.static", "axis.y.blocks.part.static"),
        ("axis.y.block.left-1.stiffness.normal", "axis.y.blocks.stiffness.normal"),
        ("bed.left-side.section.wall", "bed.member.left-side.section.wall"),
        ("spindle.mass", "spindle.part.mass"),
        ("axis.y.drive.left.nut.mass", "axis.y.drive.left.nut.mass"),
    ],
)
def test_short_and_inherited_paths_find_the_value(built: Study, path: str, full: str) -> None:
    assert built.machine.stated[path].path == full


def test_a_block_of_its_own_says_so() -> None:
    resolve_again = again(read_document(DEMO / "as-built.toml"))
    study = run(resolve_again({}, (("axis.y.block.left-1.stiffness.normal", "300 N/um"),)))
    assert study.machine.stated["axis.y.block.left-1.stiffness.normal"].value == pytest.approx(300e6)
    assert study.machine.stated["axis.y.block.left-2.stiffness.normal"].path == "axis.y.blocks.stiffness.normal"


# ---- opening


def test_a_figure_tells_its_users_and_what_rests_on_it(built: Study) -> None:
    found = opened(built, "axis.y.drive.left.whirl_speed")
    assert found.used_by == ("axis.y.drive.left.cap.whirl",)
    assert {"DRV-101", "MOT-101"} <= {finding.id for finding in found.findings}
    assert found.value is None


def test_a_value_tells_its_users(built: Study) -> None:
    found = opened(built, "axis.y.drive.left.part.root")
    assert found.figure is None
    assert {"axis.y.drive.left.whirl_speed", "axis.y.drive.left.buckling_load"} <= set(found.used_by)
    assert "DRV-101" in {finding.id for finding in found.findings}
    assert (found.value or {})["low"] == pytest.approx(0.0167)


def test_a_figure_that_is_made_of_the_value_of_its_path_shows_both(long_bed: Study) -> None:
    found = opened(long_bed, "axis.y.drive.main.travel_per_turn")
    assert found.figure is not None
    assert found.value is not None
    assert "axis.y.drive.main.travel_per_radian" in found.used_by


@pytest.mark.parametrize(
    ("path", "near"),
    [
        ("axis.y.drive.left.whirl_spead", "axis.y.drive.left.whirl_speed"),
        ("axis.x.drive.main.part.frction", "axis.x.drive.main.part.friction"),
        ("whirl_speed", "axis.x.drive.main.whirl_speed"),
    ],
)
def test_an_unknown_path_names_the_nearest_of_both(built: Study, path: str, near: str) -> None:
    with pytest.raises(NotFound, match=near):
        opened(built, path)


def test_the_screen_leads_every_input_to_its_origin(built: Study, capsys: pytest.CaptureFixture[str]) -> None:
    show_opened(built, "axis.y.drive.left.whirl_speed")
    out = " ".join(capsys.readouterr().out.split())
    assert (
        "root_diameter = 17.1 mm <- axis.y.drive.left.part.root: 17.1 mm (16.7..17.5) (row ball-screw-2020 of ball-screw.csv:"
        in out
    )
    assert "free_length = 1700 mm <- axis.y.drive.left.length: 1700 mm (file as-built.toml:" in out
    assert "elastic_modulus = 206 GPa (of screw steel; common practice, no source)" in out
    assert "rests on it: DRV-101 axis.y.drive.left (whirl) (ok)" in out


def test_every_path_of_the_export_is_in_it(long_bed: Study) -> None:
    data = export(long_bed)
    paths = {given["path"] for figure in data["figures"].values() for given in figure["inputs"]} - {""}
    assert paths - set(data["figures"]) - set(data["values"]) == set()
    assert data["values"]["axis.y.drive.main.pretension"]["kind"] == "measured"


# ---- places


@pytest.mark.parametrize("name", ["as-built", "bench", "first-idea"])
def test_the_place_of_a_finding_is_the_table_of_its_subject(name: str) -> None:
    """The line names the subject's own word, or that of what made it."""
    file = DEMO / f"{name}.toml"
    lines = file.read_text("utf-8").splitlines()
    for found in study_of(file).findings:
        assert found.place.startswith(f"{file.name}:"), (found.id, found.subject)
        words = found.subject.split(" ")[0].split("@")[0].split(".")
        line = lines[int(found.place.partition(":")[2]) - 1]
        assert any(word.rpartition("-")[0] in line or word in line for word in words), (found.subject, line)


@pytest.mark.parametrize(
    ("subject", "start"),
    [
        ("bed.left-side", "[bed]"),
        ("gantry.beam (against axis.z.rail.left)", "beam = "),
        ("axis.x.block.upper-1", "[axis.x.blocks]"),
        ("axis.y.drive.right (whirl)", 'right = { mirror = "left" }'),
        ("job.frames", "[job.frames]"),
    ],
)
def test_places_of_short_forms(built: Study, subject: str, start: str) -> None:
    line = int(built.machine.place_of(subject).partition(":")[2])
    assert (DEMO / "as-built.toml").read_text("utf-8").splitlines()[line - 1].startswith(start)


def test_a_body_that_a_slide_made_stands_at_its_axis() -> None:
    file = MACHINES / "salvaged.toml"
    assert resolve(read_document(file)).place_of("head") == f"salvaged.toml:{line_of(file, '[axis.z]')}"


# ---- defaults


def test_like_parts_share_a_row(built: Study) -> None:
    rows = {row.path: row for row in assumed(built)}
    assert rows["axis.*.stops"].count == 3
    assert rows["axis.*.drive.*.bracket"].count == 4
    stiffness = rows["axis.*.blocks.stiffness.roll"]
    assert stiffness.text == "15 kN m/rad (6..30)"
    assert (stiffness.low, stiffness.typical, stiffness.high) == pytest.approx((6e3, 15e3, 30e3))


def test_no_default_is_lost_or_told_twice(built: Study) -> None:
    told = [path for row in assumed(built) for path in row.paths]
    assert sorted(told) == sorted(path for path, found in built.machine.origins.items() if found.kind == "default")


def test_rows_stand_by_source(built: Study) -> None:
    sources = [row.source for row in assumed(built)]
    assert sources == sorted(sources)
