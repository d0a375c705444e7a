"""The detections that are hardest to explain, and the refusal where none is explained."""

from collections.abc import Sequence

from swabwright.belief.estimate import said
from swabwright.case.findings import HardToExplain
from swabwright.case.words import in_100
from swabwright.errors import NothingFits
from swabwright.inference.hardest import Unexplained, unexplained
from swabwright.inference.particles import particles
from swabwright.work.findings_read import ReadStrain

TOLD = 3


def hardest(read: ReadStrain) -> tuple[HardToExplain, ...]:
    """The three detections hardest to explain; NothingFits where the results contradict every hypothesis."""
    one, figures = read.one, read.one.opened.figures
    rows = particles(one.reading, one.prior, one.after, round(figures.number("inference.particles")))
    every = unexplained(one.known, one.observations.results, rows, one.reading.states[0].rates)
    names = {site.key: site.name for site in one.known.setting.plant.sites}
    least = figures.number("findings.contradicted")
    if every and all(each.chance.value >= least for each in every):
        raise NothingFits(_refusal(every, names))
    basis = f"{len(rows):,} hypotheses drawn from the findings; background of the site, or a false result"
    return tuple(
        HardToExplain(
            samples=each.samples,
            site=each.site_code,
            site_name=names[each.site_key],
            unexplained=said(each.chance, basis),
        )
        for each in every[:TOLD]
    )


def _refusal(every: Sequence[Unexplained], names: dict[str, str]) -> str:
    hard = "; ".join(
        f"{names[each.site_key]} ({each.site_code}), sample {' and '.join(each.samples)}, "
        f"{in_100(each.chance.value)} unexplained"
        for each in every[:TOLD]
    )
    return (
        "no hypothesis explains the results: nothing that may live in the plant as drawn accounts for what was "
        f"detected. Hardest to explain: {hard}. Check routes, lines and hours of the plant, whether the samples were "
        "mixed up, and with the laboratory whether the detections stand; nothing is concluded until then"
    )
