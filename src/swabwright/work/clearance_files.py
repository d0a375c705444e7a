"""Clearance documents with their papers and drawings, as files: one set for each strain."""

import json
from collections.abc import Sequence
from typing import Literal

from swabwright.case.canonical import readable_json
from swabwright.case.clearance import Clearance
from swabwright.case.folder import Case
from swabwright.plant.imports.names import make_id
from swabwright.record.journal import read_record
from swabwright.reports.clearance_papers import clearance_papers
from swabwright.work.sampled_marks import sampled_of

STEM = "clearance"


def clearance_files(found: Sequence[Clearance], case: Case, paper: Literal["a4", "letter"]) -> dict[str, bytes]:
    """Document, PDF and SVG of each strain: clearance.json for one strain, clearance-<strain>.json for several."""
    sampled = sampled_of(case, read_record(case.path))
    files: dict[str, bytes] = {}
    for stem, one in _stems(found):
        papers = clearance_papers(one, (case.plant, case.investigation), sampled, paper)
        files[f"{stem}.json"] = readable_json(one)
        files |= {name.replace(STEM, stem): content for name, content in papers.items()}
    return files


def clearance_json(found: Sequence[Clearance]) -> str:
    """The document, or a list of them where there are several strains."""
    plain = [one.model_dump(mode="json") for one in found]
    return json.dumps(plain[0] if len(plain) == 1 else plain, indent=2, ensure_ascii=False)


def _stems(found: Sequence[Clearance]) -> list[tuple[str, Clearance]]:
    if len(found) == 1:
        return [(STEM, found[0])]
    names: list[str] = []
    for one in found:
        names.append(make_id(one.strain or "any-strain", names, "strain"))
    return [(f"{STEM}-{name}", one) for name, one in zip(names, found, strict=True)]
