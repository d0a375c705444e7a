"""Everything the plan's papers say, as plain data for the templates."""

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from swabwright.case.investigation import Investigation, Visit
from swabwright.case.plan import Plan, PlannedSample, RestsOn
from swabwright.plant.document import Plant
from swabwright.plant.registry import load_catalogue
from swabwright.reports.footprints import is_drawn
from swabwright.reports.key_pictures import line_key
from swabwright.reports.mark_pictures import key_marks, mark_height_mm, mark_name
from swabwright.reports.marks import Mark
from swabwright.reports.stops import with_rooms
from swabwright.reports.wording import clock, counted, duration, in_100, listed, long_date, ranges, short_date

ZONES = {
    1: "Z1 touches product",
    2: "Z2 next to product",
    3: "Z3 same room",
    4: "Z4 outside it",
}
ORGANISMS = {"listeria_monocytogenes": "Listeria monocytogenes"}
SIMULATED = "tested on simulated plants only"
KEY_SHARE = 0.8


def plan_words(plan: Plan, plant: Plant, investigation: Investigation) -> dict[str, Any]:
    """The words of plan.pdf: sentences, tables, keys and text alternatives."""
    visit = next(visit for visit in investigation.visits if visit.id == plan.visit)
    products = {line.product for line in plant.lines}
    return {
        "title": f"{visit.name}, {long_date(plan.visit_date)}",
        "visit": visit.name,
        "day": short_date(plan.visit_date),
        "plant": plant.name,
        "about": listed(sorted(products)) or "no lines drawn",
        "organism": ORGANISMS.get(investigation.organism, investigation.organism.replace("_", " ").capitalize()),
        "agency": investigation.agency,
        "reference": investigation.reference,
        "foot": foot_words(plan, investigation, visit),
        "key": key_words(plan),
        "lines": [{"picture": name, "words": words} for name, _, words in line_key(plan, plant)],
        "safety": safety_words(plan),
        "stops": stop_words(plan, plant),
        "hold_words": hold_words(plan),
        "kit": [{"item": k.item, "needed": k.needed, "spare": k.spare, "why": k.why} for k in plan.kit],
        "walk": walk_words(plan, plant),
        "rests_words": rests_words(plan, investigation),
        "rests_on": rests_rows(plan),
        "not_said": not_said(plan),
        "believed": believed_rows(plan),
        "believed_words": believed_words(plan),
        "made_from": made_from(plan),
    } | first_page(plan, visit)


def first_page(plan: Plan, visit: Visit) -> dict[str, Any]:
    """The sentences and text alternatives of the first page."""
    return {
        "limits": limits_words(plan, visit),
        "finding": finding(plan),
        "not_detected": not_detected(plan),
        "dots_in_words": dots_in_words(plan),
        "not_said_first": " ".join(not_said(plan)[:2]) + " The last page says the rest.",
        "clock_alt": f"The walk against the clock, {clock(plan.walk.starts_at)} to {clock(plan.walk.ends_at)}.",
        "curve_alt": curve_alt(plan),
        "tens_alt": tens_alt(plan),
        "boxes_alt": f"Boxes of 5, 50 and 200 dots; {plan.stipple.not_drawn} of 1,000 dots are not on the drawing.",
    }


def surfaces(plan: Plan) -> int:
    """How many samples the chance counts."""
    return sum(sample.kind == "surface" for sample in plan.samples)


def limits_words(plan: Plan, visit: Visit) -> str:
    """What bounds the visit, in a sentence or two."""
    controls = len(plan.samples) - surfaces(plan)
    people = counted(visit.limits.people_per_team, "person").replace("persons", "people")
    return (
        f"{counted(len(plan.samples), 'container')} with {people} between {clock(visit.limits.starts_at)} and "
        f"{clock(visit.limits.ends_at)}; the laboratory can take {visit.limits.laboratory_takes}. "
        f"{controls} of the {len(plan.samples)} are controls; {plan.judgement_kept_free} more are kept for what is seen on the "
        f"day. The walk is {plan.walk.metres:.0f} metres and takes {duration(plan.walk.minutes)}."
    )


def finding(plan: Plan) -> list[dict[str, Any]]:
    """The finding: the chance with its range, and that under these assumptions no choice does better."""
    chance, number = plan.chance_of_finding, surfaces(plan)
    these = f"these {number} samples find it" if number > 1 else "this one sample finds it"
    return _parts(
        (f"If it lives in this plant, {these} with a chance of ", False),
        (f"{in_100(chance.value)} in 100", True),
        (f" ({in_100(chance.low)} to {in_100(chance.high)}). Under these assumptions no choice of "
         f"{counted(number, 'site')} does better than ", False),
        (f"{in_100(plan.upper_bound)}", True), (".", False),
    )  # fmt: skip


def not_detected(plan: Plan) -> list[dict[str, Any]]:
    """What 'not detected' in every sample would and would not mean."""
    before, after = plan.not_detected_means.before, plan.not_detected_means.after
    return _parts(
        (f"Not detected in all {surfaces(plan)} would not mean that it is not there: the chance that it lives here falls "
         f"from {in_100(before.value)} to ", False),
        (f"{in_100(after.value)} in 100", True),
        (f" ({in_100(after.low)} to {in_100(after.high)}), under these assumptions.", False),
    )  # fmt: skip


def _parts(*parts: tuple[str, bool]) -> list[dict[str, Any]]:
    return [{"text": text, "bold": bold} for text, bold in parts]


def dots_in_words(plan: Plan) -> str:
    """The stipple said in words: the places with most dots, the rest, and what is not drawn."""
    drawn = sorted((p for p in plan.believed if is_drawn(p.place)), key=lambda p: -p.dots)
    most, rest = drawn[:3], drawn[3:]
    said = [f"{place.dots} at {place.name}" for place in most if place.dots]
    said.append(f"{sum(place.dots for place in rest)} elsewhere on the drawing")
    wider = " Dots of a crowded site are drawn wider than it is." if plan.stipple.drawn_wider else ""
    return (
        f"Where it may live, before any sample: of 1,000 dots {listed(said)}; {plan.stipple.not_drawn} not on it. "
        f"No dot is not impossible.{wider}"
    )


def curve_alt(plan: Plan) -> str:
    """The curve in words."""
    steps = [f"{point.samples} samples {in_100(point.chance.value)} in 100" for point in plan.curve if point.samples]
    return f"Chance of finding it with the first so many samples: {listed(steps)}."


def tens_alt(plan: Plan) -> str:
    """The two ten by tens in words."""
    before, after = plan.not_detected_means.before.value, plan.not_detected_means.after.value
    return f"Two squares of a hundred: {in_100(before)} filled before, {in_100(after)} after."


def foot_words(plan: Plan, investigation: Investigation, visit: Visit) -> dict[str, str]:
    """The foot of every page."""
    return {
        "left": f"Case {investigation.reference}, {visit.name}",
        "middle": f"Swabwright {plan.software_version}, {SIMULATED}",
        "right": f"drawing {plan.hashes.plant[:8]}",
    }


def device_name(code: str) -> str:
    """What a device is called; its code where the catalogue does not know it."""
    device = load_catalogue().devices.get(code)
    return device.name.split(",")[0].lower() if device else code


def key_words(plan: Plan) -> list[dict[str, Any]]:
    """The key to the marks on the drawing: zones, then devices."""
    rows = []
    for mark in key_marks(plan):
        words = ZONES[mark.zone] if mark.zone else device_name(mark.device)
        rows.append(
            {
                "picture": mark_name(mark),
                "height": mark_height_mm(mark) * KEY_SHARE,
                "words": words,
                "zone": bool(mark.zone),
            }
        )
    return rows


def safety_words(plan: Plan) -> dict[str, Any]:
    """The cautions by kind, each with the orders of work that it is about."""
    titles = {"safety": "Cautions", "timing": "Times", "rulebook": "The rulebook", "data": "What we were not told"}
    groups = [{"title": title, "rows": warning_rows(plan, kind)} for kind, title in titles.items()]
    return {
        "defers": "These cautions do not replace the site's safety rules, local codes or licensed practice: those come first. "
        "Only plant staff open a machine; the sheet names who puts it together again.",
        "groups": [group for group in groups if group["rows"]],
    }


def warning_rows(plan: Plan, kind: str) -> list[dict[str, str]]:
    """The warnings of one kind with the samples they are about."""
    orders = {sample.site: sample.order for sample in plan.samples if sample.site}
    rows = []
    for warning in plan.warnings:
        if warning.kind == kind:
            about = sorted(orders[site] for site in warning.sites if site in orders)
            rows.append({"text": warning.text, "samples": f"samples {ranges(about)}" if about else ""})
    return rows


def stop_words(plan: Plan, plant: Plant) -> list[dict[str, str]]:
    """The stops that the plant has agreed to on the day of the visit."""
    return [
        {"line": line.name, "when": f"{clock(stop.starts_at)} to {clock(stop.ends_at)}", "by": stop.agreed_by}
        for line in plant.lines
        for stop in line.agreed_stops
        if stop.starts_at.date() == plan.visit_date
    ]


def hold_words(plan: Plan) -> str:
    """What is asked about product before a surface that touches it is sampled."""
    holds = " ".join(row["text"] for row in warning_rows(plan, "hold"))
    first = [sample.order for sample in plan.samples if sample.zone == 1]
    if not first:
        return holds or "No sample touches a surface that touches product."
    asked = (
        f"Samples {ranges(sorted(first))} touch surfaces that touch product. Before the first of them: is product held, "
        "since which lot, answered by whom? A refusal is written down too."
    )
    return f"{asked} {holds}".strip()


def walk_words(plan: Plan, plant: Plant) -> list[dict[str, Any]]:
    """The walk sheet: each run of samples in one room, in order of work."""
    rooms = {room.id: room for room in plant.rooms}
    runs = []
    for room, run in groupby(with_rooms(plan.samples), key=lambda pair: pair[1]):
        samples = [sample for sample, _ in run]
        known = rooms.get(room)
        runs.append({
            "name": known.name if known else room,
            "words": _room_words(known.hygiene_class if known else 0, samples),
            "samples": [sample_words(sample) for sample in samples],
        })  # fmt: skip
    return runs


def _room_words(hygiene_class: int, samples: Sequence[PlannedSample]) -> str:
    orders = ranges([sample.order for sample in samples])
    return f"hygiene class {hygiene_class}, {'samples' if len(samples) > 1 else 'sample'} {orders}"


def sample_words(sample: PlannedSample) -> dict[str, Any]:
    """One sample on the walk sheet."""
    mark = Mark(sample.device, sample.zone or 0)
    opened = " Opened up by plant staff." if sample.mode == "opened" else ""
    name = {
        "blank": "Blank: open it, touch nothing, close it",
        "duplicate": f"{sample.site_name}, beside the one before",
    }
    return {
        "order": sample.order, "number": sample.sample_number, "code": sample.site or "",
        "site": name.get(sample.kind, sample.site_name or sample.site or ""),
        "how": f"{sample.area_words}.{opened}", "needs": list(sample.needs),
        "device": device_name(sample.device), "at": clock(sample.arrive_at), "change": list(sample.change_first),
        "zone": f"Z{sample.zone}" if sample.zone else "", "picture": mark_name(mark),
        "picture_height": mark_height_mm(mark),
        "picture_words": f"{device_name(sample.device)}, {f'zone {sample.zone}' if sample.zone else 'no zone'}",
    }  # fmt: skip


def rests_words(plan: Plan, investigation: Investigation) -> str:
    """Who set the prior chance, and how the list is ordered."""
    prior = investigation.presence
    return (
        f"The chance that it lives here before any sample is {in_100(prior.lives_here)} in 100, set by {prior.set_by}. "
        f"{counted(len(plan.rests_on), 'figure')} below {'has' if len(plan.rests_on) == 1 else 'have'} been confirmed by "
        "nobody; the most influential stand first. A changed figure is written down with who changed it and why."
    )


def rests_rows(plan: Plan) -> list[dict[str, str]]:
    """Every unconfirmed figure, most influential first."""
    return [
        {"name": f.name, "words": f.words, "value": f.value, "source": f.source, "influence": _influence(f)}
        for f in sorted(plan.rests_on, key=lambda figure: -(figure.influence or 0.0))
    ]


def not_said(plan: Plan) -> list[str]:
    """What the plan does not say."""
    return [
        "It gives no verdict on the plant, its rooms or its product; it releases no product and holds none.",
        "'Not detected' in every sample does not mean that it is not there; page 1 gives the chance that remains.",
        f"The chance of {in_100(plan.chance_of_finding.value)} in 100 is that of finding it if it lives here, not that of its "
        f"living here. That a sample sits on the very spot and detects it: {in_100(plan.chance_of_hitting.value)} in 100.",
        "'No choice does better' holds under these assumptions and for the choices allowed, nothing more.",
        f"The figures rest on a model {SIMULATED}, on the drawing as given and on the figures above.",
        "A site without a dot is not an impossible one.",
    ]


def believed_rows(plan: Plan) -> list[dict[str, Any]]:
    """Every place that has dots, most first; rooms and lines without a code."""
    places = sorted((place for place in plan.believed if place.dots), key=lambda place: -place.dots)
    return [{"name": p.name, "place": "" if ":" in p.place else p.place, "dots": p.dots} for p in places]


def believed_words(plan: Plan) -> str:
    """How the dots were given out."""
    unseen = sum(1 for place in plan.believed if not place.dots)
    rest = f" {counted(unseen, 'place')} got none: under 1 in 2,000 each." if unseen else ""
    return (
        f"Each site has its share of 1,000 dots; {plan.stipple.not_drawn} stand for what is not on the drawing.{rest}"
    )


def made_from(plan: Plan) -> str:
    """The fingerprints of everything that went in."""
    hashes = plan.hashes
    return (
        f"Made with Swabwright {plan.software_version}, model {plan.model_version}, seed {plan.seed}, from investigation "
        f"{hashes.investigation[:16]}, plant {hashes.plant[:16]}, rulebook {hashes.rulebook[:16]}, overrides "
        f"{(hashes.overrides or 'none')[:16]}, figures {hashes.figures[:16]} (SHA-256, first 16 characters)."
    )


def _influence(figure: RestsOn) -> str:
    return "not measured" if figure.influence is None else f"{figure.influence:.1f} in 100"
