"""Why one site counts as much as it does: its weight, what a sample reaches there, and what reaches it from where."""

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace

from swabwright.belief.prior import site_weights
from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.case.words import counted, out_of_100
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.figures import Figure
from swabwright.plant.sites import Site
from swabwright.spread.network import ContactNetwork
from swabwright.spread.streams import Stream
from swabwright.work.opened import open_visit

EXPLAINED = (
    "cleaning_difficulty",
    "wetness_weight",
    "organism_fit_listeria",
    "log10_capacity_cfu",
    "shed_fraction_per_8h",
    "cleaning_log10_reduction",
    "reach_as_is",
    "reach_opened",
    "area_cm2",
    "sample_area_cm2",
)

LEAST_SPOKEN = 0.0001


@dataclass(frozen=True)
class Contact:
    """One way in which contamination reaches a site or leaves it."""

    other: str
    other_name: str
    """The plant's own name of the other site; empty for what is no site."""
    mechanism: str
    events_in_8_hours: float
    share_moved: float
    reason: str
    switched_off: bool


@dataclass(frozen=True)
class ExplainedFigure:
    """One figure behind a site."""

    name: str
    value: float
    unit: str
    source: str
    confirmed: bool


@dataclass(frozen=True)
class Explanation:
    """Everything the engine holds of one site, with its reasons."""

    site: str
    name: str
    site_type: str
    why: str
    weight: float
    """Its share of the expert prior over drawn sites."""
    usual_weight: float
    """The share of an average site of this plant."""
    rests_on_type: tuple[str, ...]
    figures: tuple[ExplainedFigure, ...]
    reached_from: tuple[Contact, ...]
    reaches: tuple[Contact, ...]


def explain_site(case: Case, visit: Visit, code: str) -> Explanation:
    """The reasons behind a site's weight, reach and contacts; an unknown code is refused with the nearest one."""
    site = _site_called(case.plant, code)
    network = open_visit(case, visit).network
    settled = effective_site(site, case.catalogue)
    place = next(number for number, row in enumerate(network.row_names) if row == site.key)
    weights = site_weights(case.plant, case.catalogue)
    return Explanation(
        site=site.code,
        name=site.name,
        site_type=settled.type.name,
        why=settled.type.why,
        weight=float(weights[case.plant.sites.index(site)]),
        usual_weight=1.0 / len(case.plant.sites),
        rests_on_type=settled.defaults,
        figures=tuple(_explained(case.figures[f"site_type.{settled.type.id}.{name}"]) for name in EXPLAINED),
        reached_from=_strongest(_incoming(network, place), case.plant),
        reaches=_strongest(_outgoing(network, place), case.plant),
    )


def _site_called(plant: Plant, code: str) -> Site:
    for site in plant.sites:
        if site.code == code:
            return site
    raise SwabwrightError(f"no site '{code}'{did_you_mean(code, [site.code for site in plant.sites])}")


def _explained(figure: Figure) -> ExplainedFigure:
    name = figure.name.rsplit(".", 1)[-1].replace("_", " ")
    return ExplainedFigure(name, figure.value, figure.unit, figure.source, figure.confirmed)


def _strongest(contacts: Iterator[Contact], plant: Plant) -> tuple[Contact, ...]:
    names = {site.code: site.name for site in plant.sites}
    named = (replace(one, other_name=names.get(one.other, "")) for one in contacts)
    return tuple(sorted(named, key=lambda one: (-one.events_in_8_hours * one.share_moved, one.other, one.mechanism)))


def _incoming(network: ContactNetwork, place: int) -> Iterator[Contact]:
    for stream in network.streams:
        for number, target in enumerate(stream.targets):
            if target.row == place:
                yield _contact(network, stream, number, _name(network, stream.source))


def _outgoing(network: ContactNetwork, place: int) -> Iterator[Contact]:
    for stream in network.streams:
        if stream.source == place:
            for number, target in enumerate(stream.targets):
                yield _contact(network, stream, number, _name(network, target.row))


def _contact(network: ContactNetwork, stream: Stream, number: int, other: str) -> Contact:
    target = stream.targets[number]
    return Contact(
        other=other,
        other_name="",
        mechanism=stream.mechanism.replace("_", " "),
        events_in_8_hours=stream.rate_per_8h,
        share_moved=stream.fraction * target.share,
        reason=target.reason,
        switched_off=not stream.on or target.row in stream.off,
    )


def _name(network: ContactNetwork, source: int) -> str:
    """The label of a row, or of a line's incoming material."""
    if source < len(network.places):
        return network.places[source].label
    return f"incoming material of {network.lines[source - len(network.places)]}"


def explanation_as_json(explanation: Explanation) -> str:
    """The explanation as JSON."""
    return json.dumps(asdict(explanation), indent=2, ensure_ascii=False)


def explanation_as_text(explanation: Explanation) -> str:
    """The explanation in sentences and lines."""
    return "\n".join(_lines(explanation))


def _lines(explanation: Explanation) -> Iterator[str]:
    times = explanation.weight / explanation.usual_weight
    yield f"{explanation.site}, {explanation.name}: {explanation.site_type}. {explanation.why}"
    yield (
        f"Before any fact it carries {out_of_100(explanation.weight)} in 100 of the weight over drawn sites, "
        f"{times:.1f} times as much as an average site here."
    )
    if explanation.rests_on_type:
        words = ", ".join(field.replace("_", " ") for field in explanation.rests_on_type)
        yield f"Taken from the site type, because nobody has said it for this site: {words}."
    yield ""
    yield "Figures"
    for figure in explanation.figures:
        confirmed = "" if figure.confirmed else " (unconfirmed)"
        yield f"  {figure.name}: {figure.value:g} ({figure.unit}){confirmed}; {figure.source}"
    yield from _contact_lines("What reaches it", explanation.reached_from)
    yield from _contact_lines("What it reaches", explanation.reaches)


def _contact_lines(heading: str, contacts: tuple[Contact, ...]) -> Iterator[str]:
    yield ""
    how_many = f"{counted(len(contacts), 'contact')}, the strongest first" if contacts else "nothing that we know of"
    yield f"{heading}: {how_many}"
    for one in contacts:
        off = " (switched off)" if one.switched_off else ""
        yield (
            f"  {_called(one)}, {one.mechanism}{off}: {_spoken(one.events_in_8_hours)} events in 8 hours, "
            f"{_spoken(100 * one.share_moved)} in 100 moved by one; {one.reason}"
        )


def _called(contact: Contact) -> str:
    return f"{contact.other_name} ({contact.other})" if contact.other_name else contact.other


def _spoken(number: float) -> str:
    """Two figures of a number, none of them in powers of ten."""
    return f"{number:.2g}" if number >= LEAST_SPOKEN or number == 0.0 else f"less than {LEAST_SPOKEN:g}"
