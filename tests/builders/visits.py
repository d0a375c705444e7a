"""Visits to the tiny plant, and an investigation that holds them."""

from datetime import UTC, date, datetime, time

from swabwright.case.investigation import Investigation, Limits, Presence, Visit


def visit_on(day, name="visit-1", hours=(5, 14)):
    """A visit on a day of 2026 (month, day) between two hours, in UTC."""
    starts_at, ends_at = (datetime.combine(date(2026, *day), time(hour), UTC) for hour in hours)
    limits = Limits(samples=10, starts_at=starts_at, ends_at=ends_at, people_per_team=2, laboratory_takes=10)
    return Visit(
        id=name,
        name=name.title(),
        lead="R. Lead",
        limits=limits,
        medium="de_broth",
        hours_to_laboratory=6.0,
        transport_temperature_c=4.0,
    )


def investigation_of(*visits, **changed):
    """An investigation with these visits, signalled on 2 March 2026."""
    usual = {
        "format": "swabwright/investigation",
        "version": 1,
        "name": "Invented",
        "reference": "T-1",
        "agency": "Agency (invented)",
        "organism": "listeria_monocytogenes",
        "signal_on": date(2026, 3, 2),
        "seed": 7,
        "presence": Presence(lives_here=0.5, set_by="a test"),
        "visits": visits,
    }
    return Investigation(**{**usual, **changed})
