"""What pieces are coloured by, against the results that it tells of."""

from dataclasses import replace

import pytest

from gantrywright.base.errors import NotFound
from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.findings import Status
from gantrywright.pictures.tints import KINDS, ORDER, tints
from gantrywright.scene import scene_of
from gantrywright.study.study import Study


def by_part(study: Study, by: str) -> dict[str, dict[str, object]]:
    pieces = scene_of(study.machine).pieces
    rows = {row["id"]: row for row in tints(study, by)["pieces"]}
    return {piece.part: rows[piece.id] for piece in pieces}


@pytest.mark.parametrize("by", KINDS)
def test_every_piece_has_one_row_and_the_scale_holds_them_all(by: str, study: Study) -> None:
    told = tints(study, by)
    assert [row["id"] for row in told["pieces"]] == [piece.id for piece in scene_of(study.machine).pieces]
    assert told["words"].endswith(".")
    scale = told["scale"]
    for row in told["pieces"]:
        if scale["kind"] == "amount" and row["value"] is not None:
            assert scale["low"] <= row["value"] <= scale["high"] * (1 + 1e-12)
            assert row["text"]


def test_an_unknown_colouring_is_refused_with_those_that_are(study: Study) -> None:
    with pytest.raises(NotFound, match="give, mass, owned, finding"):
        tints(study, "price")


def test_the_give_of_a_member_is_its_share(study: Study) -> None:
    tip = study.results.structure.worst
    assert tip is not None
    told = by_part(study, "give")
    held: dict[str, float] = {}
    for share in tip.shares:
        held[share.part] = held.get(share.part, 0.0) + typical(share.weakest)
    drawn = [part for part in held if part in told]
    assert len(drawn) > 5
    for part in drawn:
        assert told[part]["value"] == pytest.approx(100 * held[part])
        assert told[part]["text"] == f"{100 * held[part]:.1f} % of the give"


def test_where_there_is_no_structure_no_piece_gives(study: Study, bare: Study) -> None:
    soft = replace(study, results=replace(study.results, structure=bare.results.structure))
    assert all(row["value"] is None for row in tints(soft, "give")["pieces"])


def test_mass_and_owner_are_those_of_the_pieces(study: Study) -> None:
    pieces = scene_of(study.machine).pieces
    for piece, mass, owner in zip(pieces, tints(study, "mass")["pieces"], tints(study, "owned")["pieces"], strict=True):
        assert mass["value"] == piece.mass
        assert owner["value"] == piece.owned
        assert mass["text"] == ("" if piece.mass is None else show(piece.mass, "kg", study.machine.show))


def test_a_piece_is_as_bad_as_the_worst_finding_of_its_part(study: Study) -> None:
    told = by_part(study, "finding")
    worst: dict[str, Status] = {}
    for found in study.findings:
        subject = found.subject.partition(" (")[0]
        if subject not in worst or ORDER.index(found.status) < ORDER.index(worst[subject]):
            worst[subject] = found.status
    seen = 0
    for part, row in told.items():
        own = [status for subject, status in worst.items() if subject == part or subject.startswith(f"{part}.")]
        if own:
            seen += 1
            assert row["value"] == str(min(own, key=ORDER.index))
        elif row["value"] is None:
            assert row["text"] == "no check speaks of it"
    assert seen > 5
