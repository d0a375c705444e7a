"""What the results of a case say on a bank: enough histories, the reading, and where it lives after it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from swabwright.belief.known import Known
from swabwright.belief.prior import Prior, make_prior
from swabwright.case.speaking import of_strain
from swabwright.detection.observed import Observations
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.reading import Reading, read
from swabwright.plant.figures import Figures
from swabwright.spread.bank import BankName, ResponseBank
from swabwright.work.opened import OpenVisit
from swabwright.work.simulated import simulated_bank

Observe = Callable[[ResponseBank], Observations]
"""The results of one strain as items of a bank; it says which rows and occasions they have."""


@dataclass(frozen=True)
class ReadCase:
    """The results of one strain read on one bank."""

    opened: OpenVisit
    observations: Observations
    prior: Prior
    reading: Reading
    after: Posterior

    @property
    def known(self) -> Known:
        """The investigation, the plant and the bank."""
        return self.reading.known

    @property
    def lacking(self) -> str | None:
        """Why the answer is less sure than wished, None if it is not: too few histories bear the results."""
        figures = self.opened.figures
        if self.after.effective_histories < figures.number("inference.effective_histories"):
            return f"the results leave {self.after.effective_histories:.0f} effective histories"
        if self.after.leading_share_error > figures.number("inference.leading_share_error"):
            return f"the leading share is known to {self.after.leading_share_error * 100:.0f} in 100"
        return None


def read_case(
    opened: OpenVisit,
    observe: Observe,
    cache_folder: Path | None,
    say: Callable[[str], None],
    *,
    bank: BankName = "B",
) -> ReadCase:
    """The posterior on a bank that did not choose the samples, histories doubled while too few bear the results.

    Refused when facts and results fit no hypothesis (NothingFits).
    """
    histories = round(opened.figures.number("inference.histories"))
    most = round(opened.figures.number("inference.most_histories"))
    while True:
        responses = simulated_bank(opened, bank, cache_folder, say, histories=histories)
        one = read_bank(opened, responses, observe(responses))
        if one.lacking is None or histories >= most:
            return one
        histories = min(most, 2 * histories)


def read_bank(opened: OpenVisit, responses: ResponseBank, observations: Observations) -> ReadCase:
    """The results read on a bank as it is; facts of the investigation that speak of another strain are left out."""
    investigation = of_strain(opened.case.investigation, observations.strain, several=observations.several)
    known = Known(investigation, opened.setting, responses)
    prior = make_prior(opened.case.plant, opened.case.catalogue, responses.source_names)
    reading = read(known, observations)
    return ReadCase(opened, observations, prior, reading, posterior(reading, prior))


def under(one: ReadCase, figures: Figures, observations: Observations) -> ReadCase:
    """The same case read with other figures of prior and detection on the same bank.

    observations: the same results with the recovery of those figures (`belief.believe.items_under`).
    """
    known = one.known.under(figures)
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    reading = read(known, observations)
    return ReadCase(one.opened, observations, prior, reading, posterior(reading, prior))
