"""The clusters of a scan on the drawing of a plant, as files."""

from collections import Counter
from typing import Literal

from swabwright.errors import SwabwrightError
from swabwright.inference.scan import Search
from swabwright.reports.beside_papers import beside_papers
from swabwright.reports.scan_rings import ringed, scan_beside, scan_scene, scan_signs
from swabwright.work.scan_floor import Floor
from swabwright.work.scan_rows import read_rows
from swabwright.work.scan_sites import Scanned


def scan_files(
    found: Scanned, content: tuple[bytes, str, str], floor: Floor, paper: Literal["a4", "letter"]
) -> dict[str, bytes]:
    """scan.pdf and scan.svg; content: the bytes of the table, its name, and the model.

    SwabwrightError without a plant document: there is no drawing to ring them on.
    """
    if floor.plant is None:
        raise SwabwrightError("clusters are ringed on the plant's drawing; name the plant document with --plant")
    drawn = {site.code: site.position for site in floor.plant.sites}
    rows = read_rows(*content)
    places = {row.site: row.point or drawn[row.site] for row in rows}
    detected = Counter({row.site: 0 for row in rows})
    for row in rows:
        detected[row.site] += row.detected
    level = Search().level
    scene = scan_scene(floor.plant, places, detected, ringed(found.clusters, level))
    return beside_papers(
        scene, scan_beside(found.clusters, level, found.sentence.splitlines()), scan_signs(), paper=paper
    )
