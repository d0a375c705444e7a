"""Workstations: which sites one pair of hands touches."""

import re
from collections.abc import Sequence

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.names import make_id
from swabwright.plant.lines import Touch, Workstation
from swabwright.plant.sites import Site
from swabwright.tables.table import Row

TOUCH = re.compile(r"([A-Za-z0-9][A-Za-z0-9._/-]*)(?:\s*(?:[:=x]|\()\s*([\d.]+)\)?)?")
LEAST_TOUCHES = 2


def make_workstations(context: Context, sites: Sequence[Site]) -> tuple[Workstation, ...]:
    """Every workstation of the sheet that touches two sites or more; the others are put aside."""
    stations: list[Workstation] = []
    codes = {site.code.casefold(): site for site in sites}
    for row in context.rows("workstations"):
        touches = _touches(row, codes, context)
        if len(touches) < LEAST_TOUCHES:
            context.notes.put_aside(row.where, row.text("name"), "touches fewer than two sites of the list")
            continue
        # The sheet's own room may be spelt in any way; the sites are known to stand in one.
        room = codes[touches[0].site.casefold()].room
        identifier = make_id(row.text("name"), [station.id for station in stations], "workstation")
        stations.append(Workstation(id=identifier, name=row.text("name"), room=room, touches=tuple(touches)))
    if not context.rows("workstations"):
        context.notes.assume("workstations", "no sheet of workstations; hands then carry nothing from site to site")
    return tuple(stations)


def _touches(row: Row, codes: dict[str, Site], context: Context) -> list[Touch]:
    """The sites of a cell as 'S001, S014 (3)', the figure being how often, 1 where none stands."""
    touches: list[Touch] = []
    for code, weight in TOUCH.findall(row.text("touches")):
        site = codes.get(code.casefold())
        if site is None:
            context.notes.put_aside(f"{row.where}, touches", code, "no site of this code in the list")
        elif site.code not in [touch.site for touch in touches]:
            touches.append(Touch(site=site.code, weight=float(weight or 1) or 1.0))
    return touches
