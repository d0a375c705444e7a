"""The investigation that goes with an invented plant: one visit on a working day."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

import numpy as np

from benchmarks.invented_plants.contents import Contents
from swabwright.case.investigation import Implicated, Investigation, Limits, Presence, Visit

UTC = ZoneInfo("UTC")


def make_investigation(contents: Contents, with_lines: bool, seed: int, rng: np.random.Generator) -> Investigation:
    """Listeria suspected, 16 to 30 samples on a Wednesday; the first line implicated when lines are stated."""
    samples = int(rng.integers(16, 31))
    implicated = (
        Implicated(line="line-1", first_day=date(2026, 2, 2), last_day=date(2026, 2, 20), said_by="outbreak team"),
    )
    visit = Visit(
        id="visit-1",
        name="First visit",
        lead="Lead investigator (invented)",
        limits=Limits(
            samples=samples,
            starts_at=datetime(2026, 3, 4, 8, 0, tzinfo=UTC),
            ends_at=datetime(2026, 3, 4, 15, 30, tzinfo=UTC),
            people_per_team=2,
            laboratory_takes=samples + 10,
            zone_minimums={"3": 2},
        ),
        medium="de_broth",
        hours_to_laboratory=6.0,
        transport_temperature_c=4.0,
    )
    return Investigation(
        format="swabwright/investigation",
        version=1,
        name=f"Invented plant {seed}",
        reference=f"INV-{seed}",
        agency="Invented agency",
        organism="listeria_monocytogenes",
        signal_on=date(2026, 2, 24),
        seed=seed,
        implicated=implicated if with_lines else (),
        presence=Presence(lives_here=0.6, set_by="lead investigator"),
        visits=(visit,),
    )
