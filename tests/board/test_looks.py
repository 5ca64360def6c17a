"""A figure as the page opens it."""

from dataclasses import replace

from gantrywright.board.looks import figure
from gantrywright.board.office import Office
from gantrywright.study.study import Study

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
