"""A figure and a clash as the page opens them."""

from dataclasses import replace
from pathlib import Path

import pytest

from gantrywright.board.looks import _spoken, figure, spot
from gantrywright.board.office import Office
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.scene import scene_of
from gantrywright.study.study import Study, run

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"

TIP = "structure.tip.stiffness"


def study_of(office: Office) -> Study:
    found = office.desk.sheet.study
    assert found is not None
    return found


def test_the_band_of_a_figure_does_not_say_its_value_again(office: Office) -> None:
    study = study_of(office)
    study = replace(study, machine=replace(study.machine, show="metric"))
    value = float(study.results.ledger[TIP].value)
    told = figure(replace(study, bands={TIP: (0.5 * value, 2 * value)}), TIP)
    number, unit = told["text"].split(" ")
    assert unit == "N/um"
    low, high = (float(part) for part in told["band"].split(".."))
    assert (round(low / float(number), 2), round(high / float(number), 2)) == (0.5, 2.0)
    assert figure(study, TIP)["band"] == ""


def test_stiffness_opens_with_a_plain_sentence_and_inputs_that_say_their_name_once(office: Office) -> None:
    study = study_of(office)
    for path in (TIP, f"{TIP}_x", "structure.mode.1.frequency"):
        told = figure(study, path)
        shares = [given for given in told["inputs"] if "." in given["name"]]
        assert shares
        assert [given["note"] for given in shares if given["name"] in given["note"] or "%" not in given["note"]] == []
    assert figure(study, TIP)["formula"].startswith("one over the largest give ")
    assert figure(study, f"{TIP}_x")["formula"].startswith("one over the give ")


def test_a_clash_tells_both_parts_and_where_the_axes_stand_then() -> None:
    study = run(resolve(read_document(DEMO / "first-idea.toml")))
    clash = next(f for f in study.findings if f.id == "GEO-301" and f.subject.startswith("head.plate"))
    told = spot(study, clash)
    assert told is not None
    assert told["parts"] == ["head.plate", "axis.z.drive.main.coupling"]
    assert told["pose"] == {"x": 0.0, "y": 0.0, "z": pytest.approx(0.13)}
    assert set(told["parts"]) <= {piece.part for piece in scene_of(study.machine).pieces}
    assert spot(study, next(f for f in study.findings if f.id != "GEO-301")) is None


def test_loads_are_chosen_in_words() -> None:
    assert _spoken("axis.x accelerating at 1 m/s2") == "X axis accelerating at 1 m/s2"
    assert _spoken("push along X at the tool") == "push along X at the tool"
