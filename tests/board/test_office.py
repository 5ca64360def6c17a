"""What all open pages are told, as answers come in from the settling process."""

from dataclasses import replace

from gantrywright.board.office import Office
from gantrywright.study.parcel import packed


def arrived(office: Office, rev: int, what: str) -> dict[str, object]:
    """What is announced after the settling process sent something of a revision."""
    study = office.desk.sheet.study
    assert study is not None
    office._settled(rev, what, "it broke" if what == "failed" else packed(replace(study, settled=what != "typical")))
    return office.announced()["settled"]  # type: ignore[no-any-return]


def test_the_last_remedies_are_told_as_the_last(office: Office) -> None:
    heard: list[object] = []
    office.listeners.add(lambda: heard.append(office.announced()["settled"]["remedies"]))
    rev = office.desk.sheet.answers
    told = [arrived(office, rev, what) for what in ("typical", "settled", "mending", "mended")]
    assert [each["remedies"] for each in told] == ["pending", "pending", "pending", "done"]
    assert heard == ["pending", "pending", "pending", "done"]  # said with the last parcel, not with some later news


def test_remedies_of_an_earlier_machine_are_not_those_of_this_one(office: Office) -> None:
    rev = office.desk.sheet.answers
    arrived(office, rev, "mended")
    assert office.edit([("purpose.rapid", "5 m/min")], "slower")["settled"]["remedies"] == "pending"
    assert arrived(office, rev, "mended")["remedies"] == "pending"  # comes late
    assert arrived(office, office.desk.sheet.answers, "mended")["remedies"] == "done"


def test_no_remedies_are_awaited_after_a_failure(office: Office) -> None:
    told = arrived(office, office.desk.sheet.answers, "failed")
    assert (told["state"], told["remedies"]) == ("failed", "done")
