"""The tree of isolates on the drawing of a case, as files."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Literal

from swabwright.case.folder import read_case
from swabwright.errors import SwabwrightError
from swabwright.record.journal import read_record
from swabwright.record.laboratory import Isolate
from swabwright.record.results import isolates_now
from swabwright.reports.beside_papers import beside_papers
from swabwright.reports.sampled import Sampled
from swabwright.reports.strain_links import IsolateAt, Tree, link_sign, strain_scene, strains_beside
from swabwright.work.compare_strains import DECIDES_NOTHING, Compared
from swabwright.work.sampled_marks import sampled_of


def strain_files(found: Compared, case_path: Path | None, paper: Literal["a4", "letter"]) -> dict[str, bytes]:
    """strains.pdf and strains.svg: every branch up to the largest threshold, else those within one strain.

    SwabwrightError without a case: its drawing and its record say where each isolate comes from.
    """
    if case_path is None:
        raise SwabwrightError("links are drawn on the plan of a case; name the case with --case")
    case, entries = read_case(case_path), read_record(case_path)
    taken = {sample.number: sample for sample in sampled_of(case, entries)}
    isolates = tuple(_placed(found, isolates_now(entries).values(), taken))
    tree = Tree(found.tree, max(found.thresholds, default=None))
    said = (DECIDES_NOTHING, *(f"{isolate}: {words}" for isolate, words in found.said.items()))
    scene, beside = strain_scene(case.plant, isolates, tree), strains_beside(isolates, tree, said)
    return beside_papers(scene, beside, [link_sign()], case.investigation, paper)


def _placed(found: Compared, known: Iterable[Isolate], taken: dict[str, Sampled]) -> Iterator[IsolateAt]:
    """The isolates of the table whose sample has a site on the drawing."""
    for isolate in known:
        names = [name for name in (isolate.isolate, isolate.sequence_identifier) if name in found.isolates]
        if names and isolate.sample in taken:
            yield IsolateAt(str(names[0]), isolate.strain, taken[isolate.sample])
