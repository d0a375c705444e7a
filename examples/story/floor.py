"""What happens between the first question and the last container: stops, samples, photographs, what is not taken."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from story.day import Day, Told
from story.pictures import picture
from story.scribe import Event

from swabwright.case.plan import PlannedSample

MM2_A_CM2 = 100
SOON, LATER = timedelta(seconds=40), timedelta(seconds=75)
STARTED_AGAIN = "after the plant had disinfected what was touched"
APART = timedelta(minutes=30)
"""A line that is not needed to stand for so long is started in between."""


def floor_events(day: Day) -> Iterator[Event]:
    """Everything that the sampler enters on the floor."""
    for sample in day.plan.samples:
        reason = day.told.get("not_taken", {}).get(sample.site)
        if reason is not None:
            fields = {"sample": sample.sample_number, "site": sample.site, "reason": reason}
            yield Event(day.local(sample.arrive_at), "not_taken", fields)
            continue
        yield from _stop(day, sample)
        yield _collected(day, sample)
        yield from _shown(day, sample.site, sample.sample_number, day.taken_at(sample))
    yield from _line_moments(day)
    for place, (number, one) in enumerate(day.added, start=1):
        yield from _added(day, (number, one), day.ends + timedelta(minutes=6 * place))


def _needs_stop(day: Day, sample: PlannedSample) -> bool:
    if sample.site is None or sample.site in day.told.get("not_taken", {}):
        return False
    stop = day.asks(sample.site).stop(opened_up=sample.mode == "opened")
    return stop.needs_line_stop or stop.needs_isolation


def _stop(day: Day, sample: PlannedSample) -> Iterator[Event]:
    if not _needs_stop(day, sample) or sample.site is None:
        return
    asks, by = day.asks(sample.site), day.told["people"]
    fields = {
        "line": _line(day, sample.site),
        "site": sample.site,
        "stopped_by": by["operator"],
        "seen_by": day.told["by"],
    }
    if asks.stop(opened_up=sample.mode == "opened").needs_isolation:
        fields["isolated_by"] = by["mechanic"]
    yield Event(day.local(sample.arrive_at), "stop_seen", fields)


def _line(day: Day, site: str) -> str:
    """The line of a site; for a site of no line the one that the story names."""
    return day.asks(site).line or str(day.told["people"]["line"])


def _collected(day: Day, sample: PlannedSample) -> Event:
    fields: Told = {"sample": sample.sample_number, "sample_kind": sample.kind, "device": sample.device}
    fields |= {"device_lot": day.told["device_lots"][sample.device], "medium": day.visit.medium}
    if sample.site is not None:
        fields |= {"site": sample.site, "zone": sample.zone, "opened_up": sample.mode == "opened"}
        fields |= {"line_running": not _needs_stop(day, sample)} if day.asks(sample.site).line else {}
        fields |= {"surface_state": day.told["states"][sample.site]} if sample.site in day.told["states"] else {}
    if sample.area_cm2 is not None:
        fields["area_mm2"] = round(sample.area_cm2 * MM2_A_CM2)
    if sample.kind == "duplicate":
        fields["of_sample"] = day.numbers[str(sample.site)]
    return _as_entered(day, fields, day.taken_at(sample))


def _as_entered(day: Day, fields: Told, at: datetime) -> Event:
    """On the phone at once, or in the evening from the paper sheet where the story says so."""
    site = fields.get("site")
    if site in day.told.get("on_paper", ()):
        later = day.ends + timedelta(minutes=35)
        fields = fields | {"taken_at": at.isoformat()}
        return Event(later, "collected", fields, on=day.told["office"], named=f"{day.visit.id} collected {site}")
    return Event(at, "collected", fields)


def _shown(day: Day, site: str | None, number: str, at: datetime) -> Iterator[Event]:
    for one in day.told.get("photographs", ()):
        if one["site"] == site:
            wait = SOON if one["view"] == "wide" else LATER
            fields = {"view": one["view"], "sample": number, "site": site, "shows": one["shows"]}
            yield Event(at + wait, "photograph", fields, file=(picture(f"{site} {one['view']}"), "png"))


def _line_moments(day: Day) -> Iterator[Event]:
    """Each line stopped before and started after the samples that need it to stand."""
    spans: dict[str, list[tuple[datetime, datetime]]] = {}
    for sample in day.plan.samples:
        if sample.site and _needs_stop(day, sample):
            line = _line(day, sample.site)
            begins, ends = day.local(sample.arrive_at) - SOON, day.taken_at(sample) + SOON
            known = spans.setdefault(line, [])
            if known and begins - known[-1][1] < APART:
                known[-1] = (known[-1][0], ends)
            else:
                known.append((begins, ends))
    for line, stretches in spans.items():
        for begins, ends in stretches:
            yield Event(begins, "line_stopped", {"line": line})
            yield Event(ends, "line_started", {"line": line, "remarks": STARTED_AGAIN})


def _added(day: Day, numbered: tuple[str, Told], at: datetime) -> Iterator[Event]:
    """A site seen on the day, or product and material, under a spare number."""
    number, one = numbered
    fields = {"sample": number, **{key: value for key, value in one.items() if key not in ("seen", "name")}}
    if "seen" in one:
        yield Event(at, "added_by_judgement", {"sample": number, "site": one["site"], "seen": one["seen"]})
        fields |= {"zone": day.asks(one["site"]).zone, "medium": day.visit.medium}
        fields["device_lot"] = day.told["device_lots"][one["device"]]
    yield Event(at + timedelta(minutes=4), "collected", fields)
    yield from _shown(day, one.get("site"), number, at + timedelta(minutes=4))
