"""Row by row: the published figure, what the model predicts for such a study, and whether the one lies in the other."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

from validation.investigated import at_the_niche, simulated_counts, simulated_on_contact
from validation.plants import Seen
from validation.published import Published, Round, Settings, Share
from validation.studies import overall_ratio, simulated_ratios, simulated_shares

Array = npt.NDArray[np.float64]
Kind = Literal["share", "plants", "contrast", "count", "contact", "inside"]
LOW, MIDDLE, HIGH = 0.1, 0.5, 0.9
FURTHEST = 0.01
"""Beyond 98 in 100 of the simulated studies a row lies far outside."""


@dataclass(frozen=True)
class Comparison:
    """A published figure beside the 10 to 90 in 100 range of simulated studies of the same size."""

    id: str
    kind: Kind
    what: str
    sites: str
    published: float
    counted: str
    """What the figure rests on: so many of so many, or why that is not known."""
    low: float
    middle: float
    high: float
    ceiling: bool = False
    far: bool = False
    overall: float | None = None
    """Of a contrast: how many times over all plants, where the ranges of single studies are wide."""

    @property
    def in_range(self) -> bool:
        """Whether the published figure lies in the range; a ceiling does unless the whole range lies above it."""
        return self.low <= self.published and (self.ceiling or self.published <= self.high)

    @property
    def other_way(self) -> bool:
        """Whether a contrast points the other way once all plants are taken together."""
        return self.overall is not None and (self.overall > 1.0) != (self.published > 1.0)

    @property
    def fits(self) -> bool:
        """In the range, and a contrast points the published way."""
        return self.in_range and not self.other_way

    @property
    def support(self) -> str:
        """The reading in words: in the range, or which side the model is on."""
        if self.other_way:
            return "in the range, but over all plants the other way" if self.in_range else "the other way"
        if self.in_range:
            return "below it, as it must be" if self.ceiling else "in the range"
        side = "predicted lower" if self.published > self.high else "predicted higher"
        return f"{side}, far outside" if self.far else side


def compare(seen: Sequence[Seen], published: Published, settings: Settings) -> tuple[Comparison, ...]:
    """Every row of the record that something in the model stands for."""
    return (
        *_shares(seen, published.shares, settings),
        *_contrasts(seen, published, settings),
        *_rounds(seen, published.rounds, settings),
    )


def _shares(seen: Sequence[Seen], shares: Iterable[Share], settings: Settings) -> Iterator[Comparison]:
    for share in shares:
        if not share.no_counterpart:
            simulated = simulated_shares(seen, share, settings.studies, settings.seed)
            yield _compared(
                simulated,
                (share.id, "share" if share.counts == "samples" else "plants", share.what, share.kinds.named),
                (share.share, _counted(share)),
                ceiling=share.ceiling,
            )


def _contrasts(seen: Sequence[Seen], published: Published, settings: Settings) -> Iterator[Comparison]:
    for contrast in published.contrasts:
        upper, lower = published.share(contrast.upper), published.share(contrast.lower)
        simulated = simulated_ratios(seen, published, contrast, settings.studies)
        what = f"{upper.what}, over {lower.what}"
        sites = f"{upper.kinds.named} over {lower.kinds.named}"
        overall = overall_ratio(seen, published, contrast)
        figure = (upper.share / lower.share, f"`{upper.id}` / `{lower.id}`; over all plants {overall:.1f} x")
        yield replace(_compared(simulated, (contrast.id, "contrast", what, sites), figure), overall=overall)


def _rounds(seen: Sequence[Seen], rounds: Iterable[Round], settings: Settings) -> Iterator[Comparison]:
    for told in rounds:
        if "count" in told.compares and told.samples and told.detected is not None:
            counted = f"{told.detected} of {told.samples}{' (assumed)' if told.samples_assumed else ''}"
            simulated = simulated_counts(seen, told, settings.studies, settings.seed)
            yield _compared(simulated, _named(told, "count"), (told.detected / told.samples, counted))
        if "contact" in told.compares and told.detected and told.detected_on_contact is not None:
            counted = f"{told.detected_on_contact} of {told.detected}"
            simulated = simulated_on_contact(seen, told, settings.studies, settings.seed)
            yield _compared(simulated, _named(told, "contact"), (told.detected_on_contact / told.detected, counted))
        if "inside" in told.compares:
            yield _inside(seen, told, settings.seed)


def _inside(seen: Sequence[Seen], told: Round, seed: int) -> Comparison:
    """One sample of the closed machine, which in the record did not show the niche inside."""
    closed, opened = at_the_niche(seen, told)
    one_sample = np.random.default_rng(seed).binomial(1, closed).astype(np.float64)
    chances = f"not shown while closed; predicted {100 * closed.mean():.0f} closed, {100 * opened.mean():.0f} opened"
    return _compared(one_sample, _named(told, "inside"), (0.0, chances))


def _named(told: Round, kind: Kind) -> tuple[str, Kind, str, str]:
    # one investigation may be compared in several ways, each a row of its own
    name = told.id if kind == told.compares[0] else f"{told.id}.{kind}"
    return name, kind, told.what, told.niche.named


def _compared(
    simulated: Array, names: tuple[str, Kind, str, str], figure: tuple[float, str], *, ceiling: bool = False
) -> Comparison:
    low, middle, high = (float(end) for end in np.quantile(simulated, (LOW, MIDDLE, HIGH)))
    least, most = np.quantile(simulated, (FURTHEST, 1.0 - FURTHEST))
    far = not least <= figure[0] <= most
    return Comparison(*names, *figure, low=low, middle=middle, high=high, ceiling=ceiling, far=far)


def _counted(share: Share) -> str:
    of = "" if share.detected is None else f"{share.detected} of "
    assumed = " (assumed)" if share.samples_assumed else ""
    if share.counts == "samples":
        return f"{of}{share.samples} samples{assumed}"
    return f"{of}{share.samples} plants; {share.samples_a_plant} samples each{assumed}"
