"""The investigation of an invented plant: one visit, and a line that is under suspicion if there is one."""

from datetime import UTC, date, datetime, timedelta

from swabwright.case.investigation import Implicated, Investigation, Limits, Presence, Visit

MORNING = datetime(2026, 3, 16, 8, tzinfo=UTC)
EVENING = datetime(2026, 3, 16, 16, tzinfo=UTC)
DAYS_BETWEEN = 7
SUSPECTED = (date(2026, 3, 9), date(2026, 3, 13))
"""First and last day on which a suspected line made what people fell ill from."""


def invented_investigation(seed: int, line: str | None = None, visits: int = 1) -> Investigation:
    """The investigation of invented plant number `seed`, a visit a week; only the suspected line is known before it."""
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
        visits=tuple(_visit(number) for number in range(visits)),
    )


def _visit(number: int) -> Visit:
    later = timedelta(days=DAYS_BETWEEN * number)
    limits = Limits(
        samples=40,
        starts_at=MORNING + later,
        ends_at=EVENING + later,
        people_per_team=2,
        laboratory_takes=100,
        # a first visit looks everywhere; later ones go where they say most
        zone_minimums={"1": 2, "2": 2, "3": 2} if number == 0 else {"1": 0},
    )
    return Visit(
        id=f"visit-{number + 1}",
        name="First visit" if number == 0 else f"Visit {number + 1}",
        lead="invented",
        limits=limits,
        medium="neutralising_buffer",
        hours_to_laboratory=6.0,
        transport_temperature_c=4.0,
    )
