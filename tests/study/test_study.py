"""A study on whole machines: order, spread, remedies, places, and checks that crash."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from gantrywright.findings import Finding, Status, ceiling
from gantrywright.findings.check import Check
from gantrywright.intake.document import read_document, revise
from gantrywright.intake.resolve import again, resolve
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.study import checking
from gantrywright.study.export import export
from gantrywright.study.promises import promises
from gantrywright.study.remedies import with_remedies
from gantrywright.study.study import FEW, SAMPLES, Study, run, settle, simulated

DEMO = Path(__file__).parents[2] / "src" / "gantrywright" / "data" / "demo"
MACHINES = Path(__file__).parents[1] / "machines"
DRIVES = ("x.drive.main", "y.drive.left", "y.drive.right", "z.drive.main")
NAMES = ("first-idea", "as-built", "bench")


@pytest.fixture(scope="module", params=NAMES)
def settled(request: pytest.FixtureRequest) -> tuple[Study, Study]:
    resolve_again = again(read_document(DEMO / f"{request.param}.toml"))
    study = run(resolve_again({}, ()))
    return study, settle(study, resolve_again)


def test_nothing_is_broken(settled: tuple[Study, Study]) -> None:
    assert [(f.id, f.subject, f.verdict.missing) for f in settled[1].findings if f.status is Status.BROKEN] == []


def test_every_promise_lies_in_its_band(settled: tuple[Study, Study]) -> None:
    for made in promises(settled[1]):
        if made.value is not None and made.low is not None and made.high is not None:
            assert made.low * 0.98 <= made.value <= made.high * 1.02, made


def test_every_promise_opens(settled: tuple[Study, Study]) -> None:
    for made in promises(settled[1]):
        assert made.figure in settled[1].results.ledger, made.figure


def test_every_finding_names_a_figure_that_exists(settled: tuple[Study, Study]) -> None:
    missing = {
        f.verdict.figure for f in settled[1].findings if f.verdict.figure and f.verdict.figure not in settled[1].results.ledger
    }
    assert missing == set()


def test_every_input_of_a_figure_leads_to_a_figure_or_a_value(settled: tuple[Study, Study]) -> None:
    study = settled[1]
    lost = {
        i.path for figure in study.results.ledger for i in figure.inputs
        if i.path and i.path not in study.results.ledger and i.path not in study.machine.origins
    }  # fmt: skip
    assert lost == set()


def test_every_finding_has_a_place(settled: tuple[Study, Study]) -> None:
    assert [
        f.subject
        for f in settled[1].findings
        if not f.place and f.subject.partition(".")[0] in ("axis", "job", "supply", "spindle")
    ] == []


def test_typical_finding_is_kept_where_nothing_spreads(settled: tuple[Study, Study]) -> None:
    before = {(f.id, f.subject): f for f in settled[0].findings}
    for found in settled[1].findings:
        # the limit may spread where the value does not, and the margin with it
        alone = found.low is not None and found.high == found.low and found.worse == pytest.approx(found.verdict.margin, rel=1e-9)
        if alone and (found.id, found.subject) in before:
            assert found.status is before[(found.id, found.subject)].status


METRIC = re.compile(
    r"(?<![\w/.-])[\d.,]+ ?(mm|m|um|m/min|mm/s|m/s|m/s2|mm/rev|m/rad|kg|N|kN|N m|mN m|N m/rad|N/um|N/mm|kPa|MPa|km|°C)(?![\w/-])"
    r"|\b(milli|centi|kilo)?metres?\b|\b[km]?N m\b"
)
INCH = re.compile(
    r"(?<![\w/.-])[\d.,]+ ?(in|thou|mi|in/min|in/rev|in/rad|lbf|ozf|lb|oz|psi|ksi|ft|°F|lbf in|oz in)(?![\w/-])|\binch(es)?\b|\bmiles?\b"
)


def words_of(found: Finding) -> list[str]:
    """All that a reader is told about a finding, and what is written into the file for it."""
    verdict, check = found.verdict, found.check
    told = [check.title, check.why, verdict.note, verdict.remedy or check.remedy, verdict.missing]
    told += [words for change in verdict.changes for words in (change.words, *(text for _, text in change.edits))]
    return told + [words for remedy in found.remedies for words in (remedy.words, *remedy.effects)]


@pytest.mark.parametrize("show", ["metric", "inch"])
@pytest.mark.parametrize("file", [*sorted(DEMO.glob("*.toml")), *(MACHINES / f"{name}.toml" for name in ("fixed_gantry", "long_bed"))], ids=lambda file: file.stem)  # fmt: skip
def test_words_keep_to_the_units_that_were_chosen(file: Path, show: str) -> None:
    resolve_again = again(revise(read_document(file), (("machine.show", show),)))
    study = with_remedies(simulated(run(resolve_again({}, ()))), resolve_again, most=None)
    other = METRIC if show == "inch" else INCH
    said = {(f.id, words) for f in study.findings for words in words_of(f)}
    assert [pair for pair in sorted(said) if other.search(pair[1])] == []


def test_every_number_of_a_finding_has_a_name(settled: tuple[Study, Study]) -> None:
    facts = {"CUT-101", "GDE-401", "GEO-302", "GEO-501"}
    unnamed = {f.id for f in settled[1].findings if f.verdict.value is not None and not f.verdict.what} - facts
    assert {
        id for id in unnamed if any(f.id == id and abs(float(np.asarray(f.verdict.margin))) != 1 for f in settled[1].findings)
    } == set()


def test_what_is_to_be_watched_says_why(settled: tuple[Study, Study]) -> None:
    """A watch level that nobody explains looks like a fault of the tool: "watch, margin +81 %"."""
    silent = {(f.id, f.verdict.note) for f in settled[1].findings if f.verdict.watch > 0 and f.id != "GEO-302"}
    assert {
        pair for pair in silent if "watched" not in pair[1] and not pair[1].lower().startswith(("caution:", "crush hazard:"))
    } == set()


def test_no_word_of_a_unit_slips_through() -> None:
    for words in ("rails of z 10 mm longer", "half a millimetre", "0.0159 m/rad", "0.025 mm", "it wrenches by 3 N m", "1000 km"):
        assert METRIC.search(words)
    for words in ("27959 lbf in on the guide", "0.003 in", "621371 mi", "16000 pulses an inch"):
        assert INCH.search(words)


def test_export_is_plain_data(settled: tuple[Study, Study]) -> None:
    import json

    assert json.loads(json.dumps(export(settled[1]))) == export(settled[1])


def test_quantiles_stand_still_with_the_count_of_samples() -> None:
    resolve_again = again(read_document(DEMO / "as-built.toml"))
    study = run(resolve_again({}, ()))
    few, many = (settle(study, resolve_again, count=n).bands["axis.x.accel_promise"] for n in (512, 4096))
    assert few == pytest.approx(many, abs=0.05 * (many[1] - many[0]))


@pytest.mark.parametrize("name", NAMES)
def test_a_first_spread_of_few_samples_is_near_that_of_many(name: str) -> None:
    resolve_again = again(read_document(DEMO / f"{name}.toml"))
    typical = run(resolve_again({}, ()))
    few, many = (settle(typical, resolve_again, count=count) for count in (FEW, SAMPLES))
    assert few.samples == FEW
    assert many.samples == SAMPLES
    off = sorted(
        max(abs(few.bands[path][0] - low), abs(few.bands[path][1] - high)) / (high - low)
        for path, (low, high) in many.bands.items()
        if high - low > 1e-9 * abs(high)
    )
    assert 0.0 < off[len(off) * 19 // 20] < 1 / 6


def test_a_narrower_input_narrows_the_answer() -> None:
    document = read_document(DEMO / "as-built.toml")
    widths = []
    for text in ("0.01 (0.002..0.05)", "0.01 (0.0099..0.0101)"):
        resolve_again = again(revise(document, (("axis.x.drive.main.part.friction", text),)))
        low, high = settle(run(resolve_again({}, ())), resolve_again).bands["axis.x.drive.main.screw_efficiency"]
        widths.append(high - low)
    assert widths[1] < widths[0] / 20


def test_a_value_that_moves_parts_spreads_the_findings_it_decides() -> None:
    resolve_again = again(revise(read_document(DEMO / "as-built.toml"), (("axis.y.rail.left.length", "1640 mm (1630..1650)"),)))
    study = settle(run(resolve_again({}, ())), resolve_again)
    found = next(f for f in study.findings if f.id == "GEO-101" and f.subject == "axis.y")
    assert found.low == pytest.approx(1.303, abs=1e-3), "the shorter of two rails decides"
    assert found.high == pytest.approx(1.313, abs=1e-3), "a longer left rail alone gains nothing"


def test_a_tried_remedy_tells_what_really_happens() -> None:
    document = read_document(DEMO / "first-idea.toml")
    resolve_again = again(document)
    study = with_remedies(run(resolve_again({}, ())), resolve_again, most=None)
    tried = [f for f in study.findings if f.remedies]
    assert tried
    for found in tried:
        for change, remedy in zip(found.verdict.changes, found.remedies, strict=True):
            other = run(resolve(revise(document, change.edits)))
            after = next((f for f in other.findings if f.id == found.id and f.subject == found.subject), None)
            well = {Status.OK, Status.WATCH} if found.status is Status.FAIL else {Status.OK}
            assert remedy.mends == (after is None or after.status in well), "a caution is mended only when it is well"


def test_a_remedy_that_does_not_mend_never_shows_a_margin_that_passes_without_a_reason() -> None:
    resolve_again = again(read_document(DEMO / "first-idea.toml"))
    study = with_remedies(settle(run(resolve_again({}, ())), resolve_again), resolve_again, most=None)
    passing = [
        r for f in study.findings for r in f.remedies if not r.mends and any(re.search(r"^margin .* to \+", e) for e in r.effects)
    ]
    assert passing
    assert [r for r in passing if not any("5 % end about -" in e or "to be watched" in e for e in r.effects)] == []
    assert not any(re.search(r"\d{4,} %", e) for f in study.findings for r in f.remedies for e in r.effects)


def test_what_is_said_to_mend_a_doubtful_finding_really_lifts_its_worse_end() -> None:
    """Told from typical values and the spread of the old machine; here the changed machine itself is sampled."""
    document = read_document(DEMO / "first-idea.toml")
    study = with_remedies(settle(run(resolve(document)), again(document)), again(document), most=None)
    doubtful = [
        f for f in study.findings if f.status is Status.WATCH and f.worse is not None and f.remedies and f.id.startswith("G")
    ]
    said: list[bool] = []
    for found in doubtful:
        for change, remedy in zip(found.verdict.changes, found.remedies, strict=True):
            changed = revise(document, change.edits)
            settled = settle(run(resolve(changed)), again(changed), count=128)
            after = next(f for f in settled.findings if f.id == found.id and f.subject == found.subject)
            assert after.worse is not None
            assert remedy.mends == (after.worse >= 0), (found.id, found.subject, remedy.words, after.worse)
            said.append(remedy.mends)
    assert set(said) == {True, False}


def test_a_check_that_crashes_leaves_the_others_standing(monkeypatch: pytest.MonkeyPatch) -> None:
    machine = resolve(read_document(DEMO / "as-built.toml"))

    def crash(_: Machine, __: Results) -> list[object]:
        raise ZeroDivisionError("by our own fault")

    real = checking.all_checks()
    bad = replace(real[0], id="COM-999", judge=crash)
    monkeypatch.setattr(checking, "all_checks", lambda: (*real, bad))
    study = run(machine)
    assert [f.verdict.missing for f in study.findings if f.status is Status.BROKEN] == [
        "the check itself failed: ZeroDivisionError: by our own fault"
    ]
    assert len(study.findings) > 100


@pytest.mark.parametrize("subject", ["machine", "axis.y"])
def test_a_check_that_crashes_on_samples_alone_is_broken_too(monkeypatch: pytest.MonkeyPatch, subject: str) -> None:
    resolve_again = again(read_document(DEMO / "bench.toml"))

    def crash(_: Machine, results: Results) -> list[object]:
        heavy = bool(results.masses.total.mass > 0)  # one number has a truth, samples have not
        return [ceiling(subject, value=float(heavy), limit=2.0, unit="")]

    monkeypatch.setattr(checking, "all_checks", lambda: (Check("COM-997", "t", "w", "s", "r", crash),))
    study = run(resolve_again({}, ()))
    assert [f.status for f in study.findings] == [Status.OK]
    (found,) = settle(study, resolve_again, count=16).findings
    assert found.status is Status.BROKEN
    assert "truth value" in found.verdict.missing


def test_a_value_that_is_no_number_is_unknown(monkeypatch: pytest.MonkeyPatch) -> None:
    machine = resolve(read_document(DEMO / "as-built.toml"))
    odd = Check("COM-998", "t", "w", "s", "r", lambda m, r: [ceiling("machine", value=np.nan, limit=1.0, unit="")])
    monkeypatch.setattr(checking, "all_checks", lambda: (odd,))
    assert [f.status for f in run(machine).findings] == [Status.UNKNOWN]


def test_same_machine_same_answer() -> None:
    first, second = (export(run(resolve(read_document(DEMO / "bench.toml")))) for _ in range(2))
    assert first == second


def test_a_remedy_says_what_is_cut_or_fitted_already() -> None:
    document = revise(read_document(DEMO / "first-idea.toml"), (("axis.x.drive.main.state", "fitted"),))
    resolve_again = again(document)
    study = with_remedies(run(resolve_again({}, ())), resolve_again, most=None)
    found = next(f for f in study.findings if f.id == "DRV-101" and f.subject.startswith("axis.x.drive.main") and f.remedies)
    assert any("which is already fitted" in effect for remedy in found.remedies for effect in remedy.effects)
    other = next(f for f in study.findings if f.id == "DRV-101" and f.subject.startswith("axis.y.drive.left") and f.remedies)
    assert not any("already" in effect for remedy in other.remedies for effect in remedy.effects)


@pytest.mark.parametrize(
    ("edits", "id", "key"),
    [
        ((("axis.x.drive.main.nut.backlash", "unknown"),), "DRV-301", "axis.x.drive.main.nut.backlash"),
        ((("axis.z.drive.main.motor.curve_speeds", "unknown"),), "MOT-101", "axis.z.drive.main.motor.curve_speeds"),
        ((("axis.x.blocks.part.static", "unknown"),), "GDE-401", "axis.x.blocks.part.static"),
        (tuple((f"axis.{drive}.driver.highest", "unknown") for drive in DRIVES), "ELE-101", "axis.x.drive.main.driver.highest"),
        ((("job.frames.cutter.flute_length", "unknown"),), "CUT-106", "job.frames.cutter.flute_length"),
        ((("axis.x.drive.main.motor.inertia", "unknown"),), "GEO-401", "axis.x.drive.main.motor.inertia"),
    ],
)
def test_what_is_missing_names_the_key_to_write(edits: tuple[tuple[str, str], ...], id: str, key: str) -> None:
    study = run(resolve(revise(read_document(DEMO / "first-idea.toml"), edits)))
    assert key in " ".join(f.verdict.missing for f in study.findings if f.id == id)


@pytest.mark.parametrize(("show", "words"), [("metric", "320 pulses a millimetre"), ("inch", "8128 pulses an inch")])
def test_pulses_are_told_unrounded_by_the_unit_that_was_chosen(show: str, words: str) -> None:
    study = run(resolve(revise(read_document(DEMO / "as-built.toml"), (("machine.show", show),))))
    assert any(f.id == "MOT-501" and words in f.verdict.note for f in study.findings)
