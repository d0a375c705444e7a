"""Isolates on the drawing: each at the site of its sample, tied to its nearest relative of the same strain."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.inference.strains import Link as Branch
from swabwright.plant.document import Plant
from swabwright.reports.beside_papers import Beside
from swabwright.reports.link_lines import link_disc
from swabwright.reports.marks import Mark
from swabwright.reports.picture import picture
from swabwright.reports.sampled import Sampled
from swabwright.reports.scene import Scene
from swabwright.reports.spots import Link, Spot

TITLE = "Isolates and their nearest relatives"
NOT_SAID = (
    "A distance alone decides nothing; the laboratory says which isolates are one strain.",
    "A link says which isolate is nearest, not which came first and not by which way it came.",
    "It gives no verdict on the plant, its rooms or its product; it releases no product.",
)
HEADER = ("Isolate", "nearest relative", "differences", "on the drawing")


@dataclass(frozen=True)
class IsolateAt:
    """An isolate of the plant: its name in the table of distances, its strain, and the sample it came from."""

    name: str
    strain: str | None
    sample: Sampled


@dataclass(frozen=True)
class Tree:
    """The shortest tree of isolates, and up to which distance its branches are drawn."""

    branches: tuple[Branch, ...]
    at_most: float | None
    """None: only between isolates that the laboratory calls one strain."""

    def draws(self, branch: Branch, isolates: dict[str, IsolateAt]) -> bool:
        """Whether a branch is drawn: both ends have a site, and it is within the limit that the page names."""
        ends = [isolates.get(name) for name in (branch.first, branch.second)]
        if any(end is None for end in ends) or len({end.sample.site for end in ends if end}) == 1:
            return False
        if self.at_most is not None:
            return branch.distance <= self.at_most
        strains = {end.strain for end in ends if end}
        return len(strains) == 1 and None not in strains


def strain_scene(plant: Plant, isolates: Sequence[IsolateAt], tree: Tree) -> Scene:
    """A mark a site with isolates, and a double line for every branch that is drawn."""
    drawn, named = {site.code: site.position for site in plant.sites}, {one.name: one for one in isolates}
    sites = [code for code in dict.fromkeys(one.sample.site for one in isolates) if code in drawn]
    spots = tuple(_spot(code, drawn[code], isolates) for code in sites)
    links = tuple(
        Link(sites.index(named[b.first].sample.site), sites.index(named[b.second].sample.site), f"{b.distance:g}")
        for b in tree.branches
        if tree.draws(b, named) and {named[b.first].sample.site, named[b.second].sample.site} <= set(sites)
    )
    alt = (
        f"Plan of {plant.name}: {len(sites)} sites with isolates, and {len(links)} links. The table lists all branches."
    )
    return Scene(plant, spots, links=links, alt=alt)


def _spot(code: str, at: tuple[float, float], isolates: Sequence[IsolateAt]) -> Spot:
    here = [one for one in isolates if one.sample.site == code]
    strains = ", ".join(sorted({one.strain for one in here if one.strain}))
    sample = here[0].sample
    orders = ", ".join(dict.fromkeys(one.sample.order for one in here))
    return Spot(
        at, Mark(sample.device, sample.zone, "detected"), orders, f"detected, {strains}" if strains else "detected"
    )


def strains_beside(isolates: Sequence[IsolateAt], tree: Tree, sentences: Sequence[str]) -> Beside:
    """The tree as a table, and what may be said."""
    named = {one.name: one for one in isolates}
    limit = (
        "Drawn: branches between isolates that the laboratory calls one strain."
        if tree.at_most is None
        else f"Drawn: branches of at most {tree.at_most:g} differences."
    )
    rows = tuple(
        (_told(b.first, named), _told(b.second, named), f"{b.distance:g}", "yes" if tree.draws(b, named) else "no")
        for b in tree.branches
    )
    return Beside("strains", TITLE, (limit, *sentences), HEADER, rows, NOT_SAID)


def _told(name: str, named: dict[str, IsolateAt]) -> str:
    one = named.get(name)
    return f"{name}, sample {one.sample.order}" if one else name


def link_sign() -> tuple[str, str, str]:
    """The key to the double line."""
    lines = '<path d="M0 2H12" stroke="#000" stroke-width="1.06"/><path d="M0 2H12" stroke="#fff" stroke-width="0.44"/>'
    return "key-link.svg", picture([lines, link_disc("2", (6.0, 2.0))], (12.0, 4.0)), "nearest relative, differences"
