"""Case folders with a truth beside them: the engine plans, the truth answers, the engine reads the answers."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from swabwright.case.canonical import document_hash
from swabwright.case.folder import Case, read_case
from swabwright.case.truth import Truth
from swabwright.detection.items import Item
from swabwright.detection.observed import Observations, Observed
from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.inference.calibration import Forecast
from swabwright.plant.reading import read_document
from swabwright.work.calibrate_read import BATCH, Readers, readers
from swabwright.work.opened import open_visit

TRUTH_FILE = "truth.json"


@dataclass(frozen=True)
class KnownCase:
    """A case whose truth is known."""

    case: Case
    truth: Truth


def read_known_cases(folder: Path, count: int | None) -> tuple[KnownCase, ...]:
    """The case folders below `folder` that hold a truth, in order of name, the first `count` of them.

    Errors: SwabwrightError when there is none; DocumentRefused where a truth names a site that its plant lacks.
    """
    folders = sorted(file.parent for file in folder.glob(f"*/{TRUTH_FILE}"))
    if not folders:
        raise SwabwrightError(
            f"no folder below {folder} holds a {TRUTH_FILE}; a truth is known of invented cases only, "
            "leave --truths out to hold the engine against truths of its own model"
        )
    return tuple(_known_case(one) for one in folders[:count])


def _known_case(path: Path) -> KnownCase:
    case, name = read_case(path), f"{path.name}/{TRUTH_FILE}"
    truth = read_document(Truth, (path / TRUTH_FILE).read_text(encoding="utf-8"), name)
    codes = {site.code for site in case.plant.sites}
    shown = {one.site for one in truth.shows}
    faults = [Fault("niches", f"no site '{code}' in plant.json") for code in truth.niches if code not in codes]
    faults += [Fault("shows", f"site '{code}' is missing") for code in sorted(codes - shown)]
    if faults:
        raise DocumentRefused(name, faults)
    return KnownCase(case, truth)


def case_forecasts(
    cases: Sequence[KnownCase], cache_folder: Path | None, say: Callable[[str], None]
) -> Iterator[tuple[Readers, Forecast]]:
    """What the engine believes of each case after the samples that it chose itself, beside the truth."""
    for number, one in enumerate(cases, 1):
        say(f"Case {number} of {len(cases)}")
        opened = open_visit(one.case, one.case.investigation.visits[0])
        given = readers(opened, cache_folder, _silent)
        after = given.after(_answers(one.truth, given.items))
        places = {site.code: site.key for site in one.case.plant.sites}
        sources = given.sources
        niches = tuple(sources.index(places[code]) for code in one.truth.niches)
        yield given, Forecast(after.share, after.marginal, niches, document_hash(one.case.plant))


def _answers(truth: Truth, items: Sequence[Item]) -> Observations:
    shown = {one.site: one for one in truth.shows}
    found = [(item, getattr(shown[item.site_code], item.mode)) for item in items]
    return Observations(
        tuple(Observed(f"{BATCH} {place:03d}", item, one, BATCH) for place, (item, one) in enumerate(found))
    )


def _silent(_step: str) -> None:
    """The steps inside a case are not told: there are many cases."""
