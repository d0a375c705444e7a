"""Rings of a scan: only what chance seldom puts so close is ringed, and every tested site is drawn."""

from builders.pages import first_drawing, words_of
from builders.smokehouse import smokehouse
from builders.traced import clusters
from shapely import Point

from swabwright.reports.banned import banned_phrases
from swabwright.reports.beside_papers import beside_papers
from swabwright.reports.scan_rings import ringed, scan_beside, scan_scene, scan_signs

LEVEL = 0.05
PLANT = smokehouse()
PLACES = {site.code: site.position for site in PLANT.sites[:38]}
FOUND = dict.fromkeys(PLACES, 0) | {"S016": 2, "S026": 2, "S036": 1}


def scene():
    return scan_scene(PLANT, PLACES, FOUND, ringed(clusters(), LEVEL))


def papers():
    return beside_papers(
        scene(), scan_beside(clusters(), LEVEL, ("Six of eight. It says where, not why.",)), scan_signs()
    )


def test_only_clusters_that_chance_seldom_makes_are_ringed():
    assert list(ringed(clusters(), LEVEL)) == [1]
    assert len(scene().rings) == 1


def test_a_ring_holds_every_site_of_its_cluster():
    near, _ = clusters()
    (ring,) = scene().rings
    assert all(ring.contains(Point(PLACES[code])) for code in near.sites)


def test_solid_is_detected_and_open_is_not():
    svg = first_drawing(papers()["scan.svg"])
    assert svg.count('<circle r="1.0" fill="#000"') == 3
    assert svg.count('<circle r="1.0" fill="#fff"') == len(PLACES) - 3


def test_the_table_tells_every_cluster_and_whether_it_is_ringed():
    rows = scan_beside(clusters(), LEVEL, ()).rows
    assert [row[-1] for row in rows] == ["yes", "no"]
    assert rows[0][1] == "S013, S016, S017, S026"


def test_the_page_says_where_never_why():
    words = words_of(papers()["scan.pdf"])
    assert "never why, and never where it lives" in words
    assert banned_phrases(words) == []


def test_no_cluster_is_a_page_without_rings():
    made = beside_papers(scan_scene(PLANT, PLACES, FOUND, {}), scan_beside((), LEVEL, ("No group stands above.",)), [])
    assert "No group stands above." in words_of(made["scan.pdf"])


def test_the_same_scan_gives_the_same_bytes():
    assert papers() == papers()
