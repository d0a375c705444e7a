"""Invented isolates and invented clusters in the smokehouse, as their drawings get them."""

from builders.found import sampled
from builders.smokehouse import smokehouse

from swabwright.inference.scan import Cluster
from swabwright.inference.strains import Link
from swabwright.reports.strain_links import IsolateAt

STRAINS = {"S013": "A", "S016": "A", "S017": "A", "S026": "A", "S036": "B"}
BRANCHES = (
    Link("iso-S016", "iso-S026", 0.0),
    Link("iso-S016", "iso-S017", 1.0),
    Link("iso-S013", "iso-S017", 2.0),
    Link("iso-S016", "iso-S036", 38.0),
)


def isolates(strains=None):
    """One isolate a detected site."""
    taken = {one.site: one for one in sampled(smokehouse())}
    return tuple(IsolateAt(f"iso-{code}", strain, taken[code]) for code, strain in (strains or STRAINS).items())


def clusters():
    """Two groups of sites: one closer together than chance, one not."""
    near = Cluster("S016", ("S013", "S016", "S017", "S026"), 1, 2, 3.6, 6, 8.0, 9.1, 0.001)
    loose = Cluster("S036", ("S036",), 1, 1, 0.0, 1, 2.0, 0.7, 0.81)
    return near, loose
