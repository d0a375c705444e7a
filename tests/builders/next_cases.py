"""An invented case with one visit whose results are in, and a second visit to propose samples for."""

import copy

from builders.cases import FEW, change
from builders.laboratory import bring, results_case, row

QUICK = {"inference.histories": 150, "inference.most_histories": 150, "inference.particles": 600, "next.paths_told": 64}
FOUND = (2, 6)
"""Numbers at which it was detected: both samples of one drain."""
NOT_FOUND = (0, 1, 3, 4, 5, 9)


def after_first_visit(folder, found=FOUND, **limits):
    """The case of the laboratory's tests with its results in, and a visit of 14 containers a week later."""
    case = results_case(folder)
    silent = sorted({*FOUND, *NOT_FOUND} - set(found))
    bring(case, [*(row(at, "detected") for at in found), *(row(at) for at in silent)])
    change(case, "investigation.json", lambda document: _add_visit(document, limits))
    overrides = case / "overrides.toml"
    text = "".join(_override(name, value) for name, value in QUICK.items())
    overrides.write_text(overrides.read_text(encoding="utf-8") + FEW + text, encoding="utf-8")
    return case


def _add_visit(document, limits):
    document["earlier_results"] = []
    visit = copy.deepcopy(document["visits"][0]) | {"id": "visit-2", "name": "Visit 2"}
    hours = {"starts_at": "2026-03-12T09:00:00+00:00", "ends_at": "2026-03-12T12:00:00+00:00"}
    few = {"samples": 14, "laboratory_takes": 14, "blanks": 1, "duplicates": 1, "zone_minimums": {"1": 2}}
    listed = {"must": [{"site": "S025", "why": "asked"}], "must_not": [{"site": "S040", "why": "being rebuilt"}]}
    visit["limits"] |= hours | few | listed | limits
    document["visits"].append(visit)


def _override(name, value):
    return f'\n[[override]]\nfigure = "{name}"\nvalue = {value}\nwho = "a test"\nwhy = "quick"\n'
