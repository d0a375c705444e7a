"""The results of one strain, read, and read again with what could not be measured set otherwise."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from swabwright.belief.believe import ENDS, RECOVERY, UNIFORM, at_end
from swabwright.belief.prior import make_prior
from swabwright.detection.observed import Observations
from swabwright.errors import NothingFits
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.quantities import Readings
from swabwright.plant.figures import Figures
from swabwright.work.findings_places import Spots, spots_of
from swabwright.work.read_case import ReadCase, under

ObserveUnder = Callable[[Figures], Observations]
"""The same results on the same bank, their samples recovered as other figures have it."""


def quiet(_step: str) -> None:
    """Tells nobody."""


@dataclass(frozen=True)
class ReadStrain:
    """One strain's results on one bank, and how to read them with other figures."""

    one: ReadCase
    observe_under: ObserveUnder
    say: Callable[[str], None] = quiet
    """Told each step as it begins; it may raise to stop the run."""

    @property
    def after(self) -> Posterior:
        """Where it lives after the results."""
        return self.one.after

    @cached_property
    def spots(self) -> Spots:
        """The sources as places of the plant."""
        return spots_of(self.one.known.setting.plant, self.one.known.bank.source_names)

    @cached_property
    def others(self) -> tuple[tuple[str, ReadCase], ...]:
        """The same results with recovery low and high, and with less and more of the prior even; each named."""
        return tuple(self._others())

    @cached_property
    def readings(self) -> Readings:
        """The posterior beside those of the other readings."""
        return Readings(self.after, tuple((words, one.after) for words, one in self.others), self.basis)

    @property
    def basis(self) -> str:
        """What every chance rests on."""
        bank, prior = self.one.known.bank, self.one.prior
        drawn = f"given at most two niches; {bank.histories:,} histories, bank {bank.bank}"
        return f"{drawn}; prior {prior.set_by}: {prior.words}"

    def under(self, figures: Figures) -> ReadCase:
        """The same results on the same bank with other figures; NothingFits where they contradict the facts."""
        return under(self.one, figures, self.observe_under(figures))

    def _others(self) -> Iterator[tuple[str, ReadCase]]:
        figures = self.one.known.figures
        for end in ENDS:
            try:
                yield f"recovery {end}", self.under(at_end(figures, RECOVERY, end))
            # a figure whose extreme contradicts the facts is bounded by them
            except NothingFits:
                continue
        for end in ENDS:
            even = at_end(figures, (UNIFORM,), end)
            yield f"{even.number(UNIFORM) * 100:.0f} in 100 of the prior even", self._with_prior_of(even)

    def _with_prior_of(self, figures: Figures) -> ReadCase:
        """Only the prior changes, so what the results say of each hypothesis stays as it was read."""
        setting, names = self.one.known.under(figures).setting, self.one.known.bank.source_names
        prior = make_prior(setting.plant, setting.catalogue, names)
        return replace(self.one, prior=prior, after=posterior(self.one.reading, prior))
