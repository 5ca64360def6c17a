"""Parts tables: what is read, what wins, and everything that is wrong told at once."""

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from gantrywright.base.errors import FileProblems, GantrywrightError, NotFound
from gantrywright.base.spread import Origin, Spread
from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import KINDS, BallScrew, Block, Material, Motor
from gantrywright.catalog.tables import Catalog, defaults_of, make_record, packaged_problems, record_of
from gantrywright.intake.tree import Entry

BLOCKS = """\
# Blocks of this shop
id,title,source,basis,size [mm],height [mm],length [mm],dynamic [kN],dynamic_reference,static [kN],holes [mm],seal_force [N],raceways,mass [kg]

block-mine,"Block, mine",scale of mine,measured,20,30.2 +- 0.1,72.5,13.7 (11..15),100 km,20,53 x 40,4 (2..8),4,
block-20-flange,Another,derived,measured,20,1-1/4 in,70,9,50 km,,,,,0.5
"""


def folder(tmp_path: Path, **tables: str) -> Path:
    for name, text in tables.items():
        (tmp_path / f"{name.replace('_', '-')}.csv").write_text(text, "utf-8")
    return tmp_path


def told(tmp_path: Path, **tables: str) -> list[str]:
    with pytest.raises(FileProblems) as caught:
        Catalog(folder(tmp_path, **tables))
    return [str(problem).removeprefix(f"{tmp_path}/") for problem in caught.value.problems]


def test_packaged_tables_have_no_problem() -> None:
    assert packaged_problems() == ()


def test_every_packaged_row_makes_a_record() -> None:
    catalog = Catalog()
    for kind in KINDS:
        rows = catalog.rows(kind)
        assert rows, f"the package has no {kind}"
        for row in rows:
            record = record_of(row)
            assert (record.id, record.title, record.source) == (row.id, row.title, row.source)


def test_rows_are_in_si_with_spread_and_place(tmp_path: Path) -> None:
    row = Catalog(folder(tmp_path, block=BLOCKS)).find("block", "block-mine")
    assert row.cells["length"].value == 0.0725
    assert row.cells["dynamic"].value == Rating(13700.0, "distance", 1e5)
    assert row.cells["dynamic"].spread == Spread(11000.0, 13700.0, 15000.0)
    assert row.cells["static"].value == Rating(20000.0, "static")
    assert row.cells["holes"].value == (0.053, 0.04)
    assert row.cells["raceways"].value == 4
    assert row.cells["height"].spread is not None
    assert row.cells["height"].spread.shape == "normal"
    assert (row.line, row.cells["height"].line, row.own) == (4, 4, True)
    assert row.file == str(tmp_path / "block.csv")
    assert "mass" not in row.cells, "an empty cell is unknown"


def test_texts_of_cells_read_like_a_machine_file(tmp_path: Path) -> None:
    row = Catalog(folder(tmp_path, block=BLOCKS)).find("block", "block-mine")
    assert row.text("dynamic") == "13.7 kN (11..15) at 100 km"
    assert row.text("height") == "30.2 mm +- 0.1"
    assert row.text("holes") == "53 x 40 mm"
    assert row.text("title") == "Block, mine"
    assert row.text("raceways") == "4"
    assert row.text("price") == ""


def test_own_row_wins_whole(tmp_path: Path) -> None:
    packaged = Catalog().find("block", "block-20-flange")
    assert "seal_force" in packaged.cells
    mixed = Catalog(folder(tmp_path, block=BLOCKS))
    own = mixed.find("block", "block-20-flange")
    assert own.cells["height"].value == pytest.approx(0.03175)
    assert own.cells["dynamic"].value == Rating(9000.0, "distance", 5e4)
    assert "seal_force" not in own.cells
    assert mixed.find("block", "block-15-flange") == Catalog().find("block", "block-15-flange")
    assert len(mixed.rows("block")) == len(Catalog().rows("block")) + 1


def test_rating_may_stand_whole_in_its_cell(tmp_path: Path) -> None:
    text = "id,title,source,basis,bore [mm],dynamic,holding\nb-1,B,derived,estimated,12,12 kN (9..14) at 1e6 rev,fixed\n"
    row = Catalog(folder(tmp_path, bearing=text)).find("bearing", "b-1")
    assert row.cells["dynamic"].value == Rating(12000.0, "turns", 1e6)
    assert row.text("dynamic") == "12 kN (9..14) at 1e6 rev"


def test_phase_current_and_flag(tmp_path: Path) -> None:
    text = "id,title,source,basis,type,current,brake,price\nm-1,M,derived,estimated,servo,4.2 A rms,true,118 EUR\n"
    row = Catalog(folder(tmp_path, motor=text)).find("motor", "m-1")
    assert row.cells["current"].value == PhaseCurrent(4.2, "rms")
    assert row.cells["brake"].value is True
    assert row.cells["price"].text == "118 EUR"


def test_all_problems_at_once(tmp_path: Path) -> None:
    rails = (
        "id,title,source,basis,size [mm],width [mm],mass_per_length [kg/m]\n"
        'rail-1,One,derived,measured,"1,5",20,1\n'
        "rail-2,Two,derived,guess,20,-3,1\n"
        "rail-1,,derived,measured,20,20,0\n"
        "rail 3,Three,derived,measured,,20\n"
    )
    assert [line.partition(": ")[0] for line in told(tmp_path, rail=rails, rial="id\n")] == [
        "rail.csv:2 rail-1.size",
        "rail.csv:3 rail-2.basis",
        "rail.csv:3 rail-2.width",
        "rail.csv:4 rail-1",
        "rail.csv:4 rail-1.mass_per_length",
        "rail.csv:4 rail-1.title",
        "rail.csv:5",
        "rail.csv:5 rail 3",
        "rail.csv:5 rail 3.size",
        "rial.csv",
    ]


@pytest.mark.parametrize(
    ("header", "said"),
    [
        ("id,title,source,basis,size [mm],widht [mm]", "rail has no column 'widht [mm]'; nearest: width"),
        ("id,title,source,basis,size [kg]", "'kg'"),
        ("id,title,source,basis,size", "write 'size [mm]'"),
        ("id,title,source,basis,width [mm]", "add 'size [mm]'"),
        ("id,source,title,basis,size [mm]", "the first columns are"),
        ("id,title,source,basis,size [mm],size [in]", "stands twice"),
        ("", "the table is empty"),
    ],
)
def test_headings(tmp_path: Path, header: str, said: str) -> None:
    lines = told(tmp_path, rail=header + "\n")
    assert any(said in line for line in lines), lines
    assert all(line.startswith("rail.csv:1") for line in lines)


def test_bare_dynamic_rating_is_refused(tmp_path: Path) -> None:
    lines = told(tmp_path, bearing="id,title,source,basis,dynamic [kN],dynamic_reference\nb-1,B,derived,estimated,12,\n")
    assert len(lines) == 1
    assert "1e6 rev" in lines[0]
    assert "_reference" in told(tmp_path, bearing="id,title,source,basis,dynamic_reference\n")[0]


def test_efficiency_is_one_at_most(tmp_path: Path) -> None:
    lines = told(
        tmp_path, gearbox="id,title,source,basis,efficiency [%]\ng-1,G,derived,estimated,95\ng-2,G,derived,estimated,105\n"
    )
    assert len(lines) == 1
    assert "gearbox.csv:3 g-2.efficiency" in lines[0]


def test_table_that_is_no_utf8(tmp_path: Path) -> None:
    (tmp_path / "rail.csv").write_bytes("id,title\nrail-é".encode("latin-1"))
    with pytest.raises(FileProblems, match="UTF-8"):
        Catalog(tmp_path)


def test_folder_need_not_be_there(tmp_path: Path) -> None:
    assert Catalog(tmp_path / "parts").names("rail") == Catalog().names("rail")


def test_name_not_found(tmp_path: Path) -> None:
    catalog = Catalog(folder(tmp_path, block=BLOCKS))
    with pytest.raises(NotFound, match="nearest: block-mine"):
        catalog.find("block", "block-mime")
    with pytest.raises(NotFound, match="a part of that name is a block"):
        catalog.find("rail", "block-mine")
    with pytest.raises(NotFound, match="nearest: rail"):
        catalog.names("rial")
    assert catalog.kinds_of("block-mine") == ("block",)


def test_record_takes_numbers_samples_cells_and_entries() -> None:
    samples = np.array([0.012, 0.0125])
    origin = Origin("file")
    screw = make_record(
        "ball-screw",
        {"id": "s", "diameter": 0.016, "root": samples, "lead": Entry(0.005, origin), "grade": Entry(None, origin), "drag": None},
    )
    assert isinstance(screw, BallScrew)
    assert screw.root is samples
    assert (screw.lead, screw.grade, screw.drag) == (0.005, "", None)
    motor = make_record("motor", {"type": "stepper", "current": Entry(PhaseCurrent(4.2, "rms"), origin)})
    assert isinstance(motor, Motor)
    assert motor.current == PhaseCurrent(4.2, "rms")


def test_record_ignores_nothing() -> None:
    with pytest.raises(NotFound, match="nearest: diameter"):
        make_record("ball-screw", {"diametre": 0.016})
    with pytest.raises(GantrywrightError, match="screw-x lacks root, lead"):
        make_record("ball-screw", {"id": "screw-x", "diameter": 0.016})
    with pytest.raises(NotFound, match="nearest: ball-screw"):
        make_record("ballscrew", {})


def test_defaults_come_with_their_source() -> None:
    for kind, record in KINDS.items():
        for name, column in columns_of(record).items():
            assert (name in defaults_of(kind)) == bool(column.default)
    cell = defaults_of("block")["seal_force"]
    assert (cell.value, cell.source) == (4.0, "common practice, no source")
    assert cell.spread == Spread(2.0, 4.0, 8.0)
    block = record_of(Catalog().find("block", "block-15-flange"), with_defaults=False)
    assert isinstance(block, Block)


def test_some_rows_that_any_shop_knows() -> None:
    catalog = Catalog()
    steel = record_of(catalog.find("material", "steel"))
    assert isinstance(steel, Material)
    assert steel.density == pytest.approx(7850, rel=0.01)
    assert catalog.find("thread", "M8").cells["stress_area"].value == pytest.approx(36.6e-6, rel=2e-3)
    assert catalog.find("ball-screw", "ball-screw-1605").cells["lead"].value == 0.005


def test_reading_tables_loads_no_numpy() -> None:
    code = "import sys; from gantrywright.catalog.tables import Catalog; Catalog().rows('rail'); assert 'numpy' not in sys.modules"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
