"""Clusters of a scan ringed on the drawing, and every tested site with what was found there."""

from collections.abc import Mapping, Sequence

from shapely import MultiPoint
from shapely.geometry.base import BaseGeometry

from swabwright.inference.scan import Cluster
from swabwright.plant.document import Plant
from swabwright.plant.model import Point
from swabwright.reports.beside_papers import Beside
from swabwright.reports.picture import picture, text_svg
from swabwright.reports.scene import Scene
from swabwright.reports.spots import Badge

ROUND_M = 1.1
"""How far a ring keeps from the sites in it."""
DISC_MM, EDGE_MM, NUMBER_MM = 1.0, 0.42, 3.1
TITLE = "Whether detections stand closer together than chance puts them"
HEADER = ("No", "sites", "periods", "detected", "of", "p", "ring")
SENTENCES = 4
"""So many groups are told in sentences; the table holds all."""
NOT_SAID = (
    "A ring says where detections stand close, never why, and never where it lives.",
    "A site outside every ring is not one without it: 'not detected' does not mean that it is not there.",
    "It gives no verdict on the plant, its rooms or its product; it releases no product.",
)


def ringed(clusters: Sequence[Cluster], level: float) -> dict[int, Cluster]:
    """The clusters that stand closer together than chance alone often puts them, by their number in the table."""
    return {at: one for at, one in enumerate(clusters, 1) if one.p <= level}


def scan_scene(
    plant: Plant, places: Mapping[str, Point], found: Mapping[str, int], rings: Mapping[int, Cluster]
) -> Scene:
    """A ring a cluster with its number; solid where something was detected, open where nothing was."""
    outlines = {at: _outline([places[code] for code in one.sites]) for at, one in rings.items()}
    numbers = tuple(
        Badge((outline.bounds[2], (outline.bounds[1] + outline.bounds[3]) / 2), _number(str(at)), (3.2, 3.2))
        for at, outline in outlines.items()
    )
    sites = tuple(Badge(at, site_svg(detected=found[code] > 0), (2.0, 2.0), stays=True) for code, at in places.items())
    alt = f"Plan of {plant.name}: {len(places)} tested sites, {len(outlines)} rings. The table lists the same groups."
    return Scene(plant, badges=(*sites, *numbers), rings=tuple(outlines.values()), alt=alt)


def _outline(points: Sequence[Point]) -> BaseGeometry:
    return MultiPoint(list(points)).convex_hull.buffer(ROUND_M)


def site_svg(*, detected: bool) -> str:
    """A small disc around 0,0: solid where detected, open where not."""
    return f'<circle r="{DISC_MM}" fill="{"#000" if detected else "#fff"}" stroke="#000" stroke-width="{EDGE_MM}"/>'


def _number(number: str) -> str:
    return text_svg(number, (0.0, 0.0), NUMBER_MM, weight=600, anchor="middle", halo=True)


def scan_beside(clusters: Sequence[Cluster], level: float, sentences: Sequence[str]) -> Beside:
    """The clusters as a table, and the scan's first sentences."""
    drawn = ringed(clusters, level)
    rows = tuple(
        (str(at), ", ".join(one.sites), _periods(one), str(one.detections), f"{one.base:g}", f"{one.p:.3g}",
         "yes" if at in drawn else "no")
        for at, one in enumerate(clusters, 1)
    )  # fmt: skip
    limit = f"Ringed: what chance alone puts so close together in at most {100 * level:.0f} of 100 rearrangements."
    return Beside("scan", TITLE, (*sentences[:SENTENCES], limit), HEADER, rows, NOT_SAID)


def _periods(one: Cluster) -> str:
    return str(one.first_period) if one.first_period == one.last_period else f"{one.first_period} to {one.last_period}"


def scan_signs() -> list[tuple[str, str, str]]:
    """The key to discs and rings."""
    size, middle = (3.4, 3.4), '<g transform="translate(1.7 1.7)">'
    ring = '<ellipse cx="4" cy="1.9" rx="3.5" ry="1.5" fill="none" stroke="#000" stroke-width="0.7"/>'
    return [
        ("key-found.svg", picture([f"{middle}{site_svg(detected=True)}</g>"], size), "detected at least once"),
        ("key-silent.svg", picture([f"{middle}{site_svg(detected=False)}</g>"], size), "not detected"),
        ("key-ring.svg", picture([ring], (8.0, 3.8)), "a cluster, by number"),
    ]
