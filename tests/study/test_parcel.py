"""A study that went through bytes is the study."""

from pathlib import Path

from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import again, resolve
from gantrywright.study.export import export
from gantrywright.study.parcel import packed, unpacked
from gantrywright.study.remedies import with_remedies
from gantrywright.study.study import run, settle

FILE = Path(__file__).parents[1] / "machines" / "fixed_gantry.toml"


def test_everything_arrives() -> None:
    document = read_document(FILE)
    study = with_remedies(settle(run(resolve(document)), again(document), count=64), again(document), most=1)
    came = unpacked(packed(study), resolve(document))
    assert export(came) == export(study)
    assert [f.check for f in came.findings] == [f.check for f in study.findings]
    assert came.pending == study.pending
