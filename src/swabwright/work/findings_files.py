"""Findings as files: for each strain one document, its papers and its drawing."""

import json
from collections.abc import Sequence
from typing import Literal

from swabwright.case.canonical import readable_json
from swabwright.case.findings import Findings
from swabwright.case.folder import Case
from swabwright.plant.imports.names import make_id
from swabwright.record.journal import read_record
from swabwright.reports.findings_papers import FindingsSheet, findings_papers
from swabwright.work.sampled_marks import sampled_of


def findings_files(found: Sequence[Findings]) -> dict[str, bytes]:
    """Every document by its file name: findings.json for one strain, findings-<strain>.json for each of several."""
    return {f"{stem}.json": readable_json(one) for stem, one in _stems(found)}


def findings_draft(found: Sequence[Findings], case: Case, paper: Literal["a4", "letter"]) -> dict[str, bytes]:
    """Every document with its papers (PDF) and its drawing (SVG) beside it."""
    files, sampled = findings_files(found), sampled_of(case, read_record(case.path))
    for stem, one in _stems(found):
        # rounds after actions belong to another paper: only visits that were read here are drawn
        read = {result.batch for result in one.results}
        drawn = tuple(sample for sample in sampled if sample.visit in read)
        papers = findings_papers(FindingsSheet(one, case.plant, case.investigation, drawn), paper)
        files |= {name.replace("findings", stem): content for name, content in papers.items()}
    return files


def _stems(found: Sequence[Findings]) -> list[tuple[str, Findings]]:
    if len(found) == 1:
        return [("findings", found[0])]
    names: list[str] = []
    for one in found:
        names.append(make_id(one.strain or "any-strain", names, "strain"))
    return [(f"findings-{name}", one) for name, one in zip(names, found, strict=True)]


def findings_json(found: Sequence[Findings]) -> str:
    """The document, or a list of them where there are several strains."""
    plain = [one.model_dump(mode="json") for one in found]
    return json.dumps(plain[0] if len(plain) == 1 else plain, indent=2, ensure_ascii=False)
