"""Each detection: how hard it is to explain, and by which way it came; the refusal where none is explained."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from swabwright.belief.estimate import said
from swabwright.belief.rows import HypothesisRows
from swabwright.case.findings import HardToExplain, Way, WaysTo
from swabwright.case.words import in_100
from swabwright.errors import NothingFits
from swabwright.inference.hardest import Unexplained, unexplained
from swabwright.inference.particles import particles
from swabwright.inference.ways import OTHER, OWN, UNEXPLAINED, WayTaken, ways_to
from swabwright.work.findings_read import ReadStrain

TOLD = 3
WAYS_WORDS = (
    "The last step to each site, by the mean flows of the contacts as drawn; it is not read off single events, and "
    "steps before the last are not told."
)
WORDS = {
    OWN: "a niche at the site itself",
    "line": "along the line",
    "niche_to_contact": "within the machine",
    "splash": "by splash",
    "overspray": "by overspray",
    "drain_flow": "with the flow of the drain",
    "backflow": "by backflow of the drain",
    "foot": "on boots",
    "wheel": "on wheels",
    "hand": "by hand",
    "drip": "by dripping from above",
    "air": "through the air",
    OTHER: "by a contact that is not on the drawing",
    UNEXPLAINED: "unexplained: background, or a false result",
}


@dataclass(frozen=True)
class Detections:
    """Every site with a detection, the hardest to explain first, in hypotheses drawn from the findings."""

    read: ReadStrain
    rows: HypothesisRows
    every: tuple[Unexplained, ...]

    @property
    def names(self) -> dict[str, str]:
        """The plant's own names of the sites by their keys."""
        return {site.key: site.name for site in self.read.one.known.setting.plant.sites}

    def hardest(self) -> tuple[HardToExplain, ...]:
        """The three that are hardest to explain."""
        basis = f"{len(self.rows):,} hypotheses drawn from the findings; background of the site, or a false result"
        return tuple(
            HardToExplain(
                samples=each.samples,
                site=each.item.site_code,
                site_name=self.names[each.item.site_key],
                unexplained=said(each.chance, basis),
            )
            for each in self.every[:TOLD]
        )

    def ways(self) -> Iterator[WaysTo]:
        """By which way it came to each, in order of the sites' codes."""
        one = self.read.one
        for each in sorted(self.every, key=lambda each: each.item.site_code):
            taken = ways_to(one.known, one.opened.network, each.item, (self.rows, each.by_row))
            yield WaysTo(
                site=each.item.site_code,
                site_name=self.names[each.item.site_key],
                ways=tuple(_way(one, len(self.rows)) for one in taken),
            )


def detections(read: ReadStrain) -> Detections:
    """The detections of a strain; NothingFits where the results contradict every hypothesis."""
    one, figures = read.one, read.one.opened.figures
    rows = particles(one.reading, one.prior, one.after, round(figures.number("inference.particles")))
    every = unexplained(one.known, one.observations.results, rows, one.reading.states[0].rates)
    found = Detections(read, rows, every)
    least = figures.number("findings.contradicted")
    if every and all(each.chance.value >= least for each in every):
        raise NothingFits(_refusal(every, found.names))
    return found


def _way(taken: WayTaken, hypotheses: int) -> Way:
    basis = f"{hypotheses:,} hypotheses drawn from the findings; mean flows of the contacts as drawn, last step"
    return Way(mechanism=taken.way, words=WORDS[taken.way], chance=said(taken.chance, basis))


def _refusal(every: Sequence[Unexplained], names: dict[str, str]) -> str:
    hard = "; ".join(
        f"{names[each.item.site_key]} ({each.item.site_code}), sample {' and '.join(each.samples)}, "
        f"{in_100(each.chance.value)} unexplained"
        for each in every[:TOLD]
    )
    return (
        "no hypothesis explains the results: nothing that may live in the plant as drawn accounts for what was "
        f"detected. Hardest to explain: {hard}. Check routes, lines and hours of the plant, whether the samples were "
        "mixed up, and with the laboratory whether the detections stand; nothing is concluded until then"
    )
