"""The surface samples of a case as drawings mark them: order of work, site, device, and what came back."""

from collections.abc import Iterator, Sequence

from swabwright.case.folder import Case
from swabwright.record.entry import Entry
from swabwright.reports.marks import Fill
from swabwright.reports.sampled import Sampled
from swabwright.work.observed_reader import SURFACES
from swabwright.work.observed_samples import LeftOut, SampleDone, Samples
from swabwright.work.results_view import RecordView

LETTERS = "abcdefghijklmnopqrstuvwxyz"
FILLS: tuple[Fill, ...] = ("detected", "presumptive", "not-detected", "no-result")
"""The strongest first: of a sample with several results the mark shows that."""


def sampled_of(case: Case, entries: Sequence[Entry]) -> tuple[Sampled, ...]:
    """Every collected surface sample in order of work, visit after visit; a site that is not drawn has none."""
    view = RecordView(case, entries)
    done = list(_done(case, view))
    orders = _orders(case, view, done)
    return tuple(
        Sampled(
            one.number, orders[one.number], one.visit.id, one.site.code, _zone(view, one), one.device, _fill(view, one)
        )
        for one in done
        if one.site is not None
    )


def containers_before(case: Case, visit: str) -> int:
    """How many containers the accepted plans before a visit hold: orders of work go on from there."""
    plans = sorted(case.accepted, key=lambda plan: plan.visit_date)
    before = [plan for plan in plans if plan.visit != visit]
    own = next((plan for plan in plans if plan.visit == visit), None)
    return sum(len(plan.samples) for plan in before if own is None or plan.visit_date < own.visit_date)


def _done(case: Case, view: RecordView) -> Iterator[SampleDone]:
    samples = Samples(case, view)
    found = []
    for number in view.taken:
        try:
            one = samples.done(number)
        except LeftOut:
            continue
        if one.kind in SURFACES:
            found.append(one)
    yield from sorted(found, key=lambda one: (one.taken_at, one.number))


def _orders(case: Case, view: RecordView, done: Sequence[SampleDone]) -> dict[str, str]:
    """The order of work of each; one that no plan holds has that of the sample before it and a letter."""
    orders, last, added = {}, 0, 0
    for one in done:
        planned = view.planned.get(one.number)
        if planned is None:
            orders[one.number] = f"{last}{LETTERS[added % len(LETTERS)]}"
            added += 1
        else:
            last, added = containers_before(case, one.visit.id) + planned.order, 0
            orders[one.number] = str(last)
    return orders


def _zone(view: RecordView, one: SampleDone) -> int:
    return view.zone_of(one.number) or 0


def _fill(view: RecordView, one: SampleDone) -> Fill:
    said = [str(result.outcome or "no_valid_result") for result in view.current.get(one.number, ())]
    fills: list[Fill] = ["no-result" if outcome == "no_valid_result" else _named(outcome) for outcome in said]
    return min(fills, key=FILLS.index, default="not-yet-known")


def _named(outcome: str) -> Fill:
    return next(fill for fill in FILLS if fill == outcome.replace("_", "-"))
