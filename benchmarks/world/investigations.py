"""The investigation of an invented plant: one visit, and a line that is under suspicion if there is one."""

from datetime import UTC, date, datetime

from swabwright.case.investigation import Implicated, Investigation, Limits, Presence, Visit

MORNING = datetime(2026, 3, 16, 8, tzinfo=UTC)
EVENING = datetime(2026, 3, 16, 16, tzinfo=UTC)
SUSPECTED = (date(2026, 3, 9), date(2026, 3, 13))
"""First and last day on which a suspected line made what people fell ill from."""


def invented_investigation(seed: int, line: str | None = None) -> Investigation:
    """The investigation of invented plant number `seed`; nothing is known before it but the suspected line."""
    first, last = SUSPECTED
    suspected = () if line is None else (Implicated(line=line, first_day=first, last_day=last, said_by="invented"),)
    return Investigation(
        format="swabwright/investigation",
        version=1,
        name=f"Invented investigation {seed}",
        reference=f"invented-{seed}",
        agency="invented",
        organism="listeria_monocytogenes",
        signal_on=MORNING.date(),
        seed=seed,
        implicated=suspected,
        presence=Presence(lives_here=0.5, set_by="invented"),
        visits=(_visit(),),
    )


def _visit() -> Visit:
    limits = Limits(
        samples=40,
        starts_at=MORNING,
        ends_at=EVENING,
        people_per_team=2,
        laboratory_takes=100,
        zone_minimums={"1": 2, "2": 2, "3": 2},
    )
    return Visit(
        id="visit-1",
        name="First visit",
        lead="invented",
        limits=limits,
        medium="neutralising_buffer",
        hours_to_laboratory=6.0,
        transport_temperature_c=4.0,
    )
