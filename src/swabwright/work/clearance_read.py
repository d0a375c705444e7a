"""What is believed of a case after its actions, on one bank: with every action, and with those seen done only."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from swabwright.belief.known import Known
from swabwright.detection.model import detection_model
from swabwright.detection.observed import Observations
from swabwright.inference.batches import batch_states
from swabwright.inference.clearance import aftermath, mean_rates
from swabwright.inference.clearance_fates import Treated, fates_of
from swabwright.inference.clearance_readings import Readings, read_several
from swabwright.inference.labels import merged
from swabwright.inference.particles import particles
from swabwright.spread.bank import BankName, ResponseBank
from swabwright.work.clearance_actions import ActionDone
from swabwright.work.clearance_results import Course, Since, results_since
from swabwright.work.opened import OpenVisit
from swabwright.work.read_case import Observe, ReadCase, read_case
from swabwright.work.simulated import simulated_bank


@dataclass(frozen=True)
class Workplace:
    """Where banks are kept between runs (None: nowhere), and who is told each step."""

    cache: Path | None
    say: Callable[[str], None]


@dataclass(frozen=True)
class AfterActions:
    """The readings right after the last action, of all actions and of those seen only, and the results since."""

    course: Course
    since: Since
    every: Readings
    seen: Readings
    rates: dict[str, float]
    """Chance of a false detection in each batch since the first action."""
    lacking: str | None


def after_actions(
    opened: OpenVisit, course: Course, observe: Observe, bank: BankName, workplace: Workplace
) -> AfterActions:
    """The aftermath of a course of actions on one bank, results between the actions read.

    observe: all results of one strain on a bank. Histories are doubled while too few bear the results before.
    """

    def before(responses: ResponseBank) -> Observations:
        return results_since(course, observe(responses), responses).before

    one = read_case(opened, before, workplace.cache, workplace.say, bank=bank)
    observations = observe(one.known.bank)
    since = results_since(course, observations, one.known.bank)
    banks, rates = _banks(opened, course, one.known, workplace), _rates_since(one, observations)
    every, seen = (
        _readings(one, banks, course, actions).after(since.between, rates)
        for actions in (course.actions, [action for action in course.actions if action.seen])
    )
    return AfterActions(course, since, every, seen, rates, one.lacking)


def _banks(opened: OpenVisit, course: Course, left: Known, workplace: Workplace) -> tuple[Known, ...]:
    """The bank with every niche left, then those with every niche gone and reduced from each moment on."""
    banks = [left]
    for at in course.moments:
        for kind in ("gone", "reduced"):
            treated = opened.treated(kind, at)
            responses = simulated_bank(
                treated, left.bank.bank, workplace.cache, workplace.say, histories=left.bank.histories
            )
            banks.append(Known(left.investigation, left.setting, responses))
    return tuple(banks)


def _readings(one: ReadCase, banks: Sequence[Known], course: Course, actions: Sequence[ActionDone]) -> Readings:
    figures, names = one.opened.figures, one.known.bank.source_names
    treated = [
        Treated(names.index(source), course.moments.index(action.at), action.chance(figures))
        for action in actions
        if action.at is not None
        for source in action.sources
    ]
    rows = merged(particles(one.reading, one.prior, one.after, round(figures.number("clearance.particles"))))
    begun = aftermath(banks, rows, fates_of(len(names), treated), detection_model(figures))
    return read_several(begun, one.reading.results, mean_rates(one.after.states), one.prior)


def _rates_since(one: ReadCase, observations: Observations) -> dict[str, float]:
    """Chance of a false detection in every batch, as its own blanks leave it."""
    return mean_rates([(state, state.chance) for state in batch_states(observations, one.opened.figures)])
