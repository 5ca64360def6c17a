"""Whether there is such a machine as the structure is worked out of, and why there is no stiffness where there is none."""

from gantrywright.findings import Finding, Status
from gantrywright.results.structure import StructureResult
from gantrywright.study.study import Study


def doubtful(study: Study) -> tuple[Finding, ...]:
    """Findings that fail on what the structure is worked out of: no such machine can be built as it is written."""
    return tuple(finding for finding in study.findings if finding.check.structural and finding.status is Status.FAIL)


def warning(study: Study) -> str:
    """One line above the numbers of a structure that cannot be built as it is written; empty where it can, and where there are none."""
    found = doubtful(study)
    if not found or study.results.structure.worst is None:
        return ""
    subjects: dict[str, list[str]] = {}
    for finding in found:
        subjects.setdefault(finding.id, []).append(finding.subject)
    named = ", ".join(f"{id} {same[0]}{f' and {len(same) - 1} like it' if len(same) > 1 else ''}" for id, same in subjects.items())
    fail = "1 finding fails that changes" if len(found) == 1 else f"{len(found)} findings fail that change"
    return f"check: {fail} these numbers: {named}"


def no_answer(structure: StructureResult) -> list[str]:
    """Why there is no stiffness at the tool, a line each; none where there is one."""
    if structure.worst is not None:
        return []
    lines = [f"no answer: {words}" for words in structure.broken]
    for part, words in structure.adrift.items():
        lines.append(f"no answer: {part}{f', which {words},' if words else ''} is joined to nothing")
    if structure.lacking and not structure.adrift:
        lines.append(f"Stiffness at the tool: not known without {'; '.join(structure.lacking)}")
    return lines
