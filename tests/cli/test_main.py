"""The command line as a builder meets it: exit codes, words, and input that cannot be read."""

import json
from pathlib import Path

import pytest

from gantrywright.cli.main import main

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(list(words))
    said = capsys.readouterr()
    return code, said.out, said.err


@pytest.fixture
def machine(tmp_path: Path) -> Path:
    target = tmp_path / "router.toml"
    target.write_text((DEMO / "as-built.toml").read_text("utf-8"), "utf-8")
    return target


@pytest.fixture
def works(machine: Path) -> Path:
    """The machine as built, its fittings cut in four shallow passes: clamps hold those, and none of them chatters."""
    text = machine.read_text("utf-8")
    assert text.count('depth = "3 mm"') == 1
    machine.write_text(text.replace('depth = "3 mm"', 'depth = "0.75 mm"\npasses = 4'), "utf-8")
    return machine


def test_a_machine_that_fails(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, "check", str(DEMO / "first-idea.toml"), "--quick")
    assert (code, err) == (1, "")
    assert "What it can promise" in out
    assert "DRV-101" in out
    assert "first-idea.toml:" in out


def test_a_machine_that_works(capsys: pytest.CaptureFixture[str], works: Path) -> None:
    code, out, _ = run(capsys, "check", str(works))
    assert code == 0
    assert "fail" not in out.splitlines()[1]


def test_something_unknown_gives_three(capsys: pytest.CaptureFixture[str], works: Path) -> None:
    works.write_text(
        works.read_text("utf-8").replace(
            'stick_out = "22 mm"',
            'stick_out = "22 mm"\n[axis.x.block]\nupper-1 = { part = { part = "block-20-flange", static = "unknown" } }',
        ),
        "utf-8",
    )
    code, out, _ = run(capsys, "check", str(works), "--quick")
    assert code == 3
    assert "unknown" in out


def test_json_has_stable_keys(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "check", str(DEMO / "bench.toml"), "--json")
    data = json.loads(out)
    assert code in (0, 1, 3)
    assert {"machine", "promises", "findings", "figures"} <= set(data)
    assert {"id", "subject", "status", "value", "limit", "unit", "margin", "low", "high", "source", "remedy", "place"} <= set(
        data["findings"][0]
    )
    assert all(f["place"] for f in data["findings"] if f["subject"].startswith("axis"))
    assert {"value", "unit", "formula", "inputs", "source", "low", "high"} <= set(next(iter(data["figures"].values())))


def test_show_opens_a_figure(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "check", str(DEMO / "first-idea.toml"), "--quick", "--show", "axis.x.drive.main.whirl_speed")
    assert code == 1
    assert "formula:" in out
    assert "root_diameter" in out
    assert "source:" in out


def test_a_figure_that_does_not_exist_names_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = run(capsys, "check", str(DEMO / "first-idea.toml"), "--quick", "--show", "axis.x.drive.main.whirl_spead")
    assert code == 2
    assert "whirl_speed" in err


def test_a_family_lists_its_figures(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "check", str(DEMO / "first-idea.toml"), "--quick", "--show", "structure")
    assert code == 1
    lines = out.splitlines()
    assert "structure.tip.stiffness_x" in out
    assert "structure.mode.1.frequency" in out
    assert not [line for line in lines if line.startswith("axis.")]
    _, out, _ = run(capsys, "check", str(DEMO / "first-idea.toml"), "--quick", "--show", "axis.x.drive.main")
    assert "axis.x.drive.main.whirl_speed" in out
    assert "values of the machine below it: axis.x.drive.main." in out


def test_an_inch_machine_is_told_in_inches(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "check", str(DEMO / "bench.toml"), "--quick", "--all")
    told = out.split("Defaults that were used")[0]
    assert "in/min" in told
    assert " m/min" not in told
    assert " N/um" not in told


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('accuracy = "0.3 mm"', 'acuracy = "0.3 mm"', "nearest: accuracy"),
        ('part = "ball-screw-2020"', 'part = "ball-screw-2021"', "ball-screw-2020"),
        ('travel = "1250 mm"', 'travel = "1250"', "unit"),
        ('length = "1700 mm"', 'length = "1,5 mm"', "1,5"),
        ("format = 1", "format = 99", "99"),
        ("[machine]", "[machine", "router.toml:"),
        ('rapid = "8 m/min"', 'rapid = "8 m/min"\nrapid = "9 m/min"', "rapid stands twice, first in line"),
        ('stick_out = "22 mm"', 'stick_out = "1""', "inside single quotes"),
    ],
)
def test_a_mistake_gets_one_clear_message(capsys: pytest.CaptureFixture[str], machine: Path, old: str, new: str, told: str) -> None:
    text = machine.read_text("utf-8")
    assert old in text
    machine.write_text(text.replace(old, new), "utf-8")
    code, out, err = run(capsys, "check", str(machine))
    assert (code, out) == (2, "")
    assert told in err
    assert "router.toml" in err
    assert "Traceback" not in err


def test_all_problems_are_told_at_once(capsys: pytest.CaptureFixture[str], machine: Path) -> None:
    text = machine.read_text("utf-8").replace('accuracy = "0.3 mm"', 'acuracy = "0.3 mm"').replace('rules = "IEC"', 'rules = "XYZ"')
    machine.write_text(text, "utf-8")
    _, _, err = run(capsys, "check", str(machine))
    assert "2 problems" in err


@pytest.mark.parametrize("content", [b"\xff\xfe\x00bad", b"", b"format = 1\n"])
def test_files_that_are_no_machine(capsys: pytest.CaptureFixture[str], tmp_path: Path, content: bytes) -> None:
    target = tmp_path / "x.toml"
    target.write_bytes(content)
    code, _, err = run(capsys, "check", str(target))
    assert code == 2
    assert "x.toml" in err


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = run(capsys, "check", str(tmp_path / "none.toml"))
    assert code == 2
    assert "none.toml" in err


def test_a_check_that_finds_nothing_to_judge_says_so(capsys: pytest.CaptureFixture[str], works: Path) -> None:
    code, out, _ = run(capsys, "check", str(works), "--quick", "--finding", "DRV-203")
    assert code == 0
    assert "nothing to judge" in out
    code, _, err = run(capsys, "check", str(DEMO / "as-built.toml"), "--quick", "--finding", "DRV-999")
    assert code == 2
    assert "no check 'DRV-999'" in err


def test_an_unknown_check_is_told_before_anything_is_read(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = run(capsys, "check", "no-such-file.toml", "--finding", "str-999")
    assert code == 2
    assert "no check 'STR-999'" in err
    assert "no-such-file" not in err


def test_a_fault_of_ours_gets_words_and_its_own_code(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    import gantrywright.cli.check

    def crash(_: object) -> int:
        raise ZeroDivisionError("by our own fault")

    monkeypatch.setattr(gantrywright.cli.check, "run", crash)
    code, _, err = run(capsys, "check", str(DEMO / "bench.toml"))
    assert code == 4
    assert "gantrywright itself failed: ZeroDivisionError: by our own fault" in err


def test_all_tells_what_holds_in_a_line_each(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "check", str(DEMO / "as-built.toml"), "--quick", "--all")
    assert "What holds" in out
    assert len(out.splitlines()) < 900


def test_checks_lists_and_finds_a_free_id(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "checks")
    assert "DRV-101" in out
    _, one, _ = run(capsys, "checks", "DRV-101")
    assert "why:" in one
    _, free, _ = run(capsys, "checks", "--next", "DRV")
    assert free.strip() not in out


@pytest.mark.parametrize(
    "words",
    [
        ["--yes"],
        [
            "--layout",
            "fixed-gantry",
            "--units",
            "inch",
            "--work-area",
            "12 x 16 x 3 in",
            "--outlet",
            "120 V",
            "--material",
            "maple-hard",
        ],
        ["--work-area", "1250 x 1250 x 110 mm", "--material", "al-6082"],
        ["--work-area", "300 x 400 x 60 mm", "--layout", "fixed-gantry"],
    ],
)
def test_new_writes_a_machine_that_stands(capsys: pytest.CaptureFixture[str], tmp_path: Path, words: list[str]) -> None:
    code, _, _ = run(capsys, "new", str(tmp_path / "mine"), *words, "--yes")
    assert code == 0
    code, out, err = run(capsys, "check", str(tmp_path / "mine" / "machine.toml"), "--quick", "--json")
    assert err == ""
    failed = [
        f["id"] + " " + f["subject"]
        for f in json.loads(out)["findings"]
        if f["status"] == "fail" and f["id"].startswith("GEO-") and f["id"] < "GEO-400"
    ]
    assert failed == [], "what is drawn first can be built and reaches its work area"


def test_new_overwrites_nothing(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    run(capsys, "new", str(tmp_path / "mine"), "--yes")
    target = tmp_path / "mine" / "machine.toml"
    target.write_text("mine", "utf-8")
    code, _, err = run(capsys, "new", str(tmp_path / "mine"), "--yes")
    assert code == 2
    assert "is there already" in err
    assert target.read_text("utf-8") == "mine"


def test_new_keeps_a_shop_file_and_says_so(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text("format = 1\n[shop]\nname = 'Mine'\n", "utf-8")
    code, out, _ = run(capsys, "new", str(tmp_path), "--yes")
    assert code == 0
    assert "was there and is kept" in out
    assert "Mine" in (tmp_path / "shop.toml").read_text("utf-8")


def test_new_refuses_what_it_cannot_draw(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = run(capsys, "new", str(tmp_path / "mine"), "--work-area", "9000 x 900 x 100 mm", "--yes")
    assert code == 2
    assert "drawn for 150 mm to 1600 mm along x. Write at most 1600 mm for x." in err
    assert not (tmp_path / "mine").exists()


def test_new_knows_its_materials(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = run(capsys, "new", str(tmp_path / "mine"), "--material", "plywod-birch", "--yes")
    assert code == 2
    assert "plywood-birch" in err
    assert not (tmp_path / "mine").exists()


def test_new_wants_a_material_that_is_cut(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = run(capsys, "new", str(tmp_path / "mine"), "--material", "rail-steel", "--yes")
    assert code == 2
    assert "no cutting figures of 'rail-steel'" in err
    assert "plywood-birch" in err
    assert not (tmp_path / "mine").exists()


def test_parts_can_be_looked_up(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "parts")
    assert "ball-screw" in out
    _, rows, _ = run(capsys, "parts", "ball-screw", "ball-screw-20")
    assert "ball-screw-2010" in rows
    code, _, err = run(capsys, "parts", "balscrew")
    assert code == 2
    assert "ball-screw" in err


def test_no_name_of_a_part_is_folded(capsys: pytest.CaptureFixture[str]) -> None:
    _, rows, _ = run(capsys, "parts", "cutter")
    lines = rows.splitlines()
    assert max(map(len, lines)) <= 120
    assert all(line.split("  ")[0] for line in lines if line and not line.startswith(" "))
    assert (
        sum(line.startswith("end-mill-6-2f-compression  ") for line in lines) == sum(line.startswith("id  ") for line in lines) > 1
    )


def test_parts_beside_a_machine_are_marked(capsys: pytest.CaptureFixture[str], machine: Path) -> None:
    (machine.parent / "parts").mkdir()
    (machine.parent / "parts" / "foot.csv").write_text("id,title,source,basis\nfoot-mine,Mine,derived,measured\n", "utf-8")
    _, kinds, _ = run(capsys, "parts", "--beside", str(machine))
    assert "(1 yours)" in kinds
    _, rows, _ = run(capsys, "parts", "foot", "--beside", str(machine))
    assert "yours" in next(line for line in rows.splitlines() if line.startswith("foot-mine"))
    code, _, err = run(capsys, "parts", "foot", "--beside", str(machine.parent / "none.toml"))
    assert code == 2
    assert "none.toml" in err


def test_expand_prints_what_recipes_became(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "expand", str(DEMO / "as-built.toml"))
    assert code == 0
    assert "left-side" in out


def test_schema_is_json(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "schema")
    assert code == 0
    assert json.loads(out)["$schema"].endswith("2020-12/schema")
