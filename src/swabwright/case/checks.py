"""What an investigation says, held against the plant and the catalogue."""

from collections.abc import Collection, Iterator

from swabwright.case.investigation import Investigation, Limits, Visit
from swabwright.errors import Fault, did_you_mean
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant

IN_A_NICHE = ".growth_niche_part"


def investigation_faults(investigation: Investigation, plant: Plant, catalogue: Catalogue) -> tuple[Fault, ...]:
    """Every place where the investigation names what does not exist, or times that cannot be; empty when none."""
    return (
        *_suspicion_faults(investigation, plant),
        *_earlier_result_faults(investigation, plant, catalogue),
        *_presence_faults(investigation),
        *_visits_faults(investigation, plant, catalogue),
        *_unknown("organism", investigation.organism, "organism", _organisms(catalogue)),
    )


def _organisms(catalogue: Catalogue) -> set[str]:
    """Organisms whose life in a plant has figures; of others only the growth in food is known."""
    under = catalogue.figures.under("organism")
    return {name.removesuffix(IN_A_NICHE) for name in under if name.endswith(IN_A_NICHE)}


def _second_parts(catalogue: Catalogue, prefix: str) -> set[str]:
    return {name.split(".")[0] for name in catalogue.figures.under(prefix)}


def _plannable_organisms(catalogue: Catalogue) -> set[str]:
    """Organisms whose dying on surfaces is known; for others there are figures of growth only."""
    return {
        name.split(".")[0] for name in catalogue.figures.under("organism") if name.endswith(".die_off_log10_per_8h_wet")
    }


def _unknown(path: str, word: str, noun: str, known: Collection[str]) -> Iterator[Fault]:
    if word not in known:
        yield Fault(path, f"no {noun} '{word}'{did_you_mean(word, list(known))}")


def _suspicion_faults(investigation: Investigation, plant: Plant) -> Iterator[Fault]:
    lines = [line.id for line in plant.lines]
    for place, span in enumerate(investigation.implicated):
        yield from _unknown(f"implicated[{place}].line", span.line, "line", lines)
        if span.last_day < span.first_day:
            yield Fault(f"implicated[{place}].last_day", f"{span.last_day} is before the first day, {span.first_day}")
    for place, test in enumerate(investigation.product_tests):
        yield from _unknown(f"product_tests[{place}].line", test.line, "line", lines)


def _earlier_result_faults(investigation: Investigation, plant: Plant, catalogue: Catalogue) -> Iterator[Fault]:
    codes = [site.code for site in plant.sites]
    first_visit = min(visit.limits.starts_at for visit in investigation.visits)
    for place, result in enumerate(investigation.earlier_results):
        path = f"earlier_results[{place}]"
        yield from _unknown(f"{path}.site", result.site, "site", codes)
        yield from _unknown(f"{path}.device", result.device, "device", catalogue.devices)
        if result.taken_at >= first_visit:
            yield Fault(f"{path}.taken_at", f"{result.taken_at} is not before the first visit, {first_visit}")


def _presence_faults(investigation: Investigation) -> Iterator[Fault]:
    presence = investigation.presence
    if presence.lives_here + (presence.incoming_only or 0.0) > 1.0:
        yield Fault("presence", "lives_here and incoming_only add to more than 1; lower one of them")


def _visits_faults(investigation: Investigation, plant: Plant, catalogue: Catalogue) -> Iterator[Fault]:
    seen: dict[str, int] = {}
    media = _second_parts(catalogue, "medium")
    for place, visit in enumerate(investigation.visits):
        if visit.id in seen:
            yield Fault(f"visits[{place}].id", f"'{visit.id}' is already visits[{seen[visit.id]}]; give it its own id")
        seen[visit.id] = place
        yield from _unknown(f"visits[{place}].medium", visit.medium, "medium", media)
        yield from _visit_faults(f"visits[{place}].limits", visit, plant)


def _visit_faults(path: str, visit: Visit, plant: Plant) -> Iterator[Fault]:
    limits = visit.limits
    codes = [site.code for site in plant.sites]
    if limits.ends_at <= limits.starts_at:
        yield Fault(f"{path}.ends_at", f"{limits.ends_at} is not after the start, {limits.starts_at}")
    for kind in ("must", "must_not"):
        for place, entry in enumerate(getattr(limits, kind)):
            yield from _unknown(f"{path}.{kind}[{place}].site", entry.site, "site", codes)
    for code in sorted(_both(limits)):
        yield Fault(f"{path}.must_not", f"site '{code}' stands in must as well; take it out of one of them")


def _both(limits: Limits) -> set[str]:
    return {entry.site for entry in limits.must} & {entry.site for entry in limits.must_not}
