"""Use case: scan the tested sites of a CSV file for detections that stand close together."""

from dataclasses import dataclass
from math import isfinite

import numpy as np

from swabwright.errors import DocumentRefused, Fault
from swabwright.inference.scan import Cluster, Search, SitesTested, scan, sentence
from swabwright.tables.delimited import read_delimited

NEEDED = "needs a site, two lengths in m, and whole numbers for period, detected and (Bernoulli) tested"
HEADING = ["site", "x_m", "y_m", "period", "detected", "tested"]


@dataclass(frozen=True)
class Scanned:
    """The clusters of a scan and what may be said of them."""

    periods: tuple[int, ...]
    clusters: tuple[Cluster, ...]
    sentence: str


def scan_file(content: bytes, name: str, model: str, search: Search) -> Scanned:
    """The clusters among the rows site, x_m, y_m, period, detected, tested; straight distances.

    Errors: DocumentRefused naming the row; SwabwrightError naming the site.
    """
    tested, periods = _tested(content, name, model)
    clusters = scan(tested, search)
    said = [sentence(one, search) for one in clusters] or ["No group of sites stands above its surroundings."]
    return Scanned(periods, clusters, "\n".join(said))


def _tested(content: bytes, name: str, model: str) -> tuple[SitesTested, tuple[int, ...]]:
    rows = [[cell.strip() for cell in row] for row in read_delimited(content)]
    if not rows or rows[0] != HEADING or len(rows) == 1:
        raise DocumentRefused(name, [Fault("row 1", f"the heading must be {', '.join(HEADING)}, with rows below it")])
    read = [_row(row, at, name, model) for at, row in enumerate(rows[1:], 2)]
    points: dict[str, tuple[float, float]] = {}
    for at, (site, x, y, *_) in enumerate(read, 2):
        if points.setdefault(site, (x, y)) != (x, y):
            raise DocumentRefused(name, [Fault(f"row {at}", f"site {site} stands elsewhere in an earlier row")])
    sites, periods = tuple(sorted(points)), tuple(sorted({row[3] for row in read}))
    detections, base = np.zeros((len(sites), len(periods)), np.int64), np.zeros((len(sites), len(periods)))
    for site, _, _, period, detected, tested in read:
        at_cell = sites.index(site), periods.index(period)
        detections[at_cell] += detected
        base[at_cell] += tested
    where = np.array([points[site] for site in sites])
    distances = np.linalg.norm(where[:, None] - where[None], axis=2)
    return SitesTested(sites, detections, base, distances, model), periods


def _row(row: list[str], at: int, name: str, model: str) -> tuple[str, float, float, int, int, float]:
    try:
        site, x, y, period, detected, tested = row
        read = site, float(x), float(y), int(period), int(detected), float(tested)
    except ValueError as error:
        raise DocumentRefused(name, [Fault(f"row {at}", NEEDED)]) from error
    if not all(isfinite(value) for value in read[1:]) or (model == "bernoulli" and read[5] % 1 != 0):
        raise DocumentRefused(name, [Fault(f"row {at}", NEEDED)])
    return read
