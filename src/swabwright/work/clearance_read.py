"""What is believed of a case after its actions, on one bank: with every action, and with those seen done only."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import get_args

from swabwright.belief.believe import ENDS, at_end
from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.model import detection_model
from swabwright.inference.batches import batch_states
from swabwright.inference.clearance import Aftermath, aftermath, mean_rates, with_past
from swabwright.inference.clearance_fates import Treated, fates_of
from swabwright.inference.clearance_readings import Readings, read_several
from swabwright.inference.labels import merged
from swabwright.inference.particles import particles
from swabwright.plant.figures import Figures
from swabwright.record.casework import ActionKind
from swabwright.spread.bank import BankName
from swabwright.spread.treatments import Kind
from swabwright.work.clearance_actions import ActionDone
from swabwright.work.clearance_results import Course, Since, results_since
from swabwright.work.opened import OpenVisit
from swabwright.work.read_case import Observe, ReadCase, read_bank
from swabwright.work.simulated import simulated_bank

CHOOSES: BankName = "A"
"""The bank on which the rounds to come are chosen."""
REPORTS: BankName = "B"
"""The bank on which results are read and chances reported."""
EFFICACY = tuple(f"clearance.gone.{kind}" for kind in get_args(ActionKind))


@dataclass(frozen=True)
class Workplace:
    """Where banks are kept between runs (None: nowhere), and who is told each step."""

    cache: Path | None
    say: Callable[[str], None]


@dataclass(frozen=True)
class Begun:
    """What was believed before the actions, the banks of what they may have done, and the results since."""

    one: ReadCase
    course: Course
    since: Since
    banks: tuple[Known, ...]
    rows: HypothesisRows
    rates: dict[str, float]
    """Chance of a false detection in each batch since the first action."""

    def aftermath(self, actions: Sequence[ActionDone], figures: Figures) -> Aftermath:
        """What these actions may have left, with nothing kept of the results before them but their weights."""
        names = self.one.known.bank.source_names
        treated = [
            Treated(names.index(source), self.course.moment_of(action.at), action.chance(figures))
            for action in actions
            if action.at is not None
            for source in action.sources
        ]
        return aftermath(self.banks, self.rows, fates_of(len(names), treated), detection_model(figures))

    def readings(self, actions: Sequence[ActionDone]) -> Readings:
        """What is believed once these actions are done and the results between them are known, in all readings."""
        figures = self.one.opened.figures
        # how much an action does is assumed more than anything else
        acted = {f"actions {end}": self.aftermath(actions, at_end(figures, EFFICACY, end)) for end in ENDS}
        begun, rates = self.aftermath(actions, figures), mean_rates(self.one.after.states)
        several = read_several(begun, self.one.reading.results, rates, self.one.prior, acted=acted if actions else {})
        return several.after(self.since.between, self.rates)

    def plainly(self) -> Aftermath:
        """The same of all actions in one reading, rounds included: what the rounds to come are chosen on."""
        begun = self.aftermath(self.course.actions, self.one.opened.figures)
        now = with_past(begun, self.one.reading.results, mean_rates(self.one.after.states))
        for results in (self.since.between, *(results for _, results in self.since.rounds)):
            now = now.after(results, self.rates)
        return now


def begin(opened: OpenVisit, course: Course, observe: Observe, bank: BankName, workplace: Workplace) -> Begun:
    """What was believed before a course of actions on one bank, and what was found since.

    observe: all results of one strain on a bank.
    """
    one = _read_before(opened, course, observe, bank, workplace)
    observations, figures = observe(one.known.bank), opened.figures
    return Begun(
        one=one,
        course=course,
        since=results_since(course, observations, one.known.bank),
        banks=_banks(opened, course, one.known, workplace),
        rows=merged(particles(one.reading, one.prior, one.after, round(figures.number("clearance.particles")))),
        rates=mean_rates([(state, state.chance) for state in batch_states(observations, figures)]),
    )


def _read_before(opened: OpenVisit, course: Course, observe: Observe, bank: BankName, workplace: Workplace) -> ReadCase:
    """The results before the actions; histories are doubled while too few bear them, on the bank that reports."""
    histories, most = _histories(opened.figures, bank)
    while True:
        responses = simulated_bank(opened, bank, workplace.cache, workplace.say, histories=histories)
        one = read_bank(opened, responses, results_since(course, observe(responses), responses).before)
        if one.lacking is None or histories >= most:
            return one
        histories = min(most, 2 * histories)


def _histories(figures: Figures, bank: BankName) -> tuple[int, int]:
    """How many histories a bank begins with, and the most it may come to."""
    read, chosen = (round(figures.number(f"{use}.histories")) for use in ("inference", "planning"))
    if bank == CHOOSES:
        return min(read, chosen), min(read, chosen)
    # several banks of the same histories lie in memory at once, so there are fewer of them than for findings
    return read, round(figures.number("clearance.most_histories"))


def _banks(opened: OpenVisit, course: Course, left: Known, workplace: Workplace) -> tuple[Known, ...]:
    """The bank with every niche left, then those with every niche gone and reduced from each moment on."""
    banks = [left]
    kinds: tuple[Kind, ...] = ("gone", "reduced")
    for at, kind in product(course.moments, kinds):
        treated = opened.treated(kind, at)
        responses = simulated_bank(
            treated, left.bank.bank, workplace.cache, workplace.say, histories=left.bank.histories
        )
        banks.append(Known(left.investigation, left.setting, responses))
    return tuple(banks)
