"""Use case: scan the tested sites of a CSV file for detections that stand close together."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from swabwright.inference.scan import Cluster, Search, scan, sentence
from swabwright.inference.scan_tested import SitesTested
from swabwright.inference.windows import Floats
from swabwright.plant.document import Plant
from swabwright.plant.reading import read_plant
from swabwright.plant.registry import load_catalogue
from swabwright.work.scan_floor import Floor, distances_of
from swabwright.work.scan_rows import Row, read_rows

STRAIGHT = Floor()


@dataclass(frozen=True)
class Scanned:
    """The clusters of a scan and what may be said of them."""

    distances: str
    periods: tuple[int, ...]
    clusters: tuple[Cluster, ...]
    sentence: str


def scan_file(content: bytes, name: str, model: str, search: Search, floor: Floor = STRAIGHT) -> Scanned:
    """The clusters among the rows of the file, by straight distance or on foot.

    Errors: DocumentRefused naming the row; SwabwrightError naming the site or the missing door.
    """
    rows = read_rows(content, name, model)
    sites, distances_m = distances_of(rows, floor, name)
    periods = tuple(sorted({row.period for row in rows}))
    tested = _tested(rows, sites, periods, distances_m, model)
    clusters = scan(tested, search)
    measured = "on foot" if floor.walking else "straight"
    return Scanned(measured, periods, clusters, "\n".join(_said(clusters, search, tested, measured)))


def plant_of(path: Path) -> Plant:
    """The plant document of a file, read strictly against the catalogue that comes with the program."""
    return read_plant(path.read_text(encoding="utf-8"), load_catalogue(), path.name)


def _tested(
    rows: Sequence[Row], sites: tuple[str, ...], periods: tuple[int, ...], distances_m: Floats, model: str
) -> SitesTested:
    detections, base = np.zeros((len(sites), len(periods)), np.int64), np.zeros((len(sites), len(periods)))
    for row in rows:
        cell = sites.index(row.site), periods.index(row.period)
        detections[cell] += row.detected
        base[cell] += row.tested
    return SitesTested(sites, detections, base, distances_m, model, periods)


def _said(clusters: Sequence[Cluster], search: Search, tested: SitesTested, measured: str) -> Iterator[str]:
    yield from (sentence(one, tested, search) for one in clusters)
    if not clusters:
        yield "No group of sites stands above its surroundings."
    if measured == "on foot":
        yield "Distances are metres on foot through the doors that are drawn."
    apart = np.argwhere(np.isinf(tested.distances_m))
    if apart.size:
        one, other = (tested.sites[place] for place in apart[0])
        yield f"No way on foot joins {one} and {other}: sites without a way between them never share a window."
