"""Findings as files: one document a strain."""

import json
from collections.abc import Sequence

from swabwright.case.canonical import readable_json
from swabwright.case.findings import Findings
from swabwright.plant.imports.names import make_id


def findings_files(found: Sequence[Findings]) -> dict[str, bytes]:
    """Every document by its file name: findings.json for one strain, findings-<strain>.json for each of several."""
    if len(found) == 1:
        return {"findings.json": readable_json(found[0])}
    names: list[str] = []
    for one in found:
        names.append(make_id(one.strain or "any-strain", names, "strain"))
    return {f"findings-{name}.json": readable_json(one) for name, one in zip(names, found, strict=True)}


def findings_json(found: Sequence[Findings]) -> str:
    """The document, or a list of them where there are several strains."""
    plain = [one.model_dump(mode="json") for one in found]
    return json.dumps(plain[0] if len(plain) == 1 else plain, indent=2, ensure_ascii=False)
