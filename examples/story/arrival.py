"""What every visit begins and ends with: the accepted plan, credentials, consent, product at stake, counts, receipt."""

from collections.abc import Iterator
from datetime import timedelta

from story.day import Day
from story.scribe import Event


def arrival_events(day: Day) -> Iterator[Event]:
    """The entries around a visit, at fixed distances from its start and from the end of its walk."""
    starts, people = day.local(day.visit.limits.starts_at), day.told["people"]
    frozen = {"visit": day.visit.id, "plan": f"@{day.visit.id} plan"}
    yield Event(starts - timedelta(hours=17), "plan_accepted", frozen, on=day.told["office"])
    counts = day.told["counts"]
    for place, (thing, count) in enumerate(counts["out"].items()):
        fields = {"when": "out", "thing": thing, "count": count}
        yield Event(starts - timedelta(minutes=55 - place), "counted", fields)
    shown = {"shown_by": day.told["shown_by"], "shown_to": people["manager"]}
    yield Event(starts - timedelta(minutes=28), "credentials_shown", shown)
    for place, consent in enumerate(day.told["consents"]):
        fields = {"given_by": people["manager"], **consent}
        yield Event(starts - timedelta(minutes=26) + timedelta(seconds=30 * place), "consent", fields)
    yield from _product_at_stake(day)
    yield from _departure(day)


def _product_at_stake(day: Day) -> Iterator[Event]:
    starts, manager = day.local(day.visit.limits.starts_at), day.told["people"]["manager"]
    for place, (line, answer) in enumerate(day.told["hold"].items()):
        at = starts - timedelta(minutes=5) + timedelta(seconds=20 * place)
        yield Event(at, "hold_asked", {"line": line, "asked_of": manager})
        fields = {"line": line, "answered_by": manager, **answer}
        yield Event(at + timedelta(minutes=2), "hold_answered", fields)


def _departure(day: Day) -> Iterator[Event]:
    for place, (thing, count) in enumerate(day.told["counts"]["in"].items()):
        fields = {"when": "in", "thing": thing, "count": count}
        yield Event(day.ends + timedelta(minutes=48 + place), "counted", fields)
    given = {"samples": f"@{day.visit.id} taken", "given_to": day.told["people"]["manager"]}
    given |= {"reply_by": day.told["reply_by"]} if "reply_by" in day.told else {}
    yield Event(day.ends + timedelta(minutes=52), "receipt", given)
