"""The clearance document, put together from what was read."""

from collections.abc import Iterator
from datetime import datetime

from swabwright import __version__
from swabwright.belief.estimate import said
from swabwright.case.canonical import document_hash
from swabwright.case.clearance import (
    ActionRead,
    Clearance,
    ClearanceHashes,
    Left,
    NextRound,
    Required,
    RoundDone,
    RoundsAhead,
    RoundSample,
)
from swabwright.case.figures_hash import figures_hash
from swabwright.case.words import counted
from swabwright.spread.setting import MODEL_VERSION
from swabwright.work.clearance_actions import ActionDone
from swabwright.work.clearance_gone_words import ANY_STRAIN, unlike_words
from swabwright.work.clearance_said import action_words, asks, assumptions, left_out, sentences
from swabwright.work.clearance_told import Told
from swabwright.work.findings_places import spots_of


def compose_clearance(told: Told) -> Clearance:
    """The document with its sentences."""
    case, strain = told.opened.case, told.strain
    draft = Clearance(
        format="swabwright/clearance",
        version=1,
        investigation=case.investigation.name,
        plant=case.plant.name,
        strain=strain,
        other_strains=tuple(one or ANY_STRAIN for one in told.others),
        software_version=__version__,
        model_version=str(MODEL_VERSION),
        seed=case.investigation.seed,
        hashes=_hashes(told),
        as_of=datetime.fromisoformat(told.entries[-1].statement.at) if told.entries else None,
        actions=tuple(_action(told, one) for one in told.actions),
        before_rounds=told.standings[0].gone,
        rounds=tuple(_rounds(told)),
        now=told.now,
        if_not_gone=tuple(_if_not_gone(told)),
        required=_required(told),
        next_round=_next_round(told),
        ahead=tuple(_ahead(told)),
        asks=tuple(asks(told)),
        assumptions=tuple(assumptions(told)),
        left_out=tuple(left_out(told)),
        lacking=told.begun.one.lacking,
        sentences=(),
    )
    draft = draft.model_copy(update={"assumptions": (*draft.assumptions, *unlike_words(draft))})
    return draft.model_copy(update={"sentences": tuple(sentences(draft))})


def _hashes(told: Told) -> ClearanceHashes:
    case = told.opened.as_read
    return ClearanceHashes(
        investigation=document_hash(case.investigation),
        plant=document_hash(case.plant),
        rulebook=case.rulebook_hash,
        overrides=case.overrides_hash,
        figures=figures_hash(case.figures),
        record_head=told.entries[-1].hash if told.entries else "",
    )


def _action(told: Told, one: ActionDone) -> ActionRead:
    return ActionRead(
        action=one.name,
        kind_of_action=one.kind,
        known_by=one.known_by,
        done_at=one.at,
        sites=tuple(site.code for site in one.sites),
        rooms=one.rooms,
        disturbs=one.disturbs,
        removes=one.chance(told.opened.figures),
        words=action_words(one, told.opened.figures),
    )


def _rounds(told: Told) -> Iterator[RoundDone]:
    for (visit, results), standing in zip(told.begun.since.rounds, told.standings[1:], strict=True):
        yield RoundDone(
            visit=visit.id,
            name=visit.name,
            taken_on=visit.limits.starts_at.date(),
            results=len(results),
            detected=sum(one.detected for one in results),
            gone=standing.gone,
        )


def _if_not_gone(told: Told) -> Iterator[Left]:
    """The likeliest places of what may be left."""
    one = told.standings[-1].every.plain
    if one.states.gone.all():
        return
    places = spots_of(told.opened.case.plant, one.banks[0].bank.source_names).every
    share = one.share_left
    order = sorted(range(len(share)), key=lambda at: (-share[at], places[at].code))
    for at in order[: round(told.opened.figures.number("clearance.places_named"))]:
        basis = f"of the states in which a niche remains, its niches alike; {told.standings[-1].every.basis}"
        yield Left(place=places[at].code, name=places[at].name, share=said(one.left_at(at), basis))


def _required(told: Told) -> Required:
    """The rulebook's rounds beside those done: in a row, up to the last, with nothing detected."""
    figure = told.opened.figures["rule.clearance_rounds"]
    done = 0
    for _, results in reversed(told.begun.since.rounds):
        if any(one.detected for one in results):
            break
        done += 1
    asked = round(figure.value)
    words = (
        f"The rulebook asks for {counted(asked, 'round')} in a row with nothing detected after the last action; "
        f"{counted(done, 'such round')} since then. Neither that count nor the chance stands for the other."
    )
    return Required(rounds=asked, rounds_done=done, source=figure.source[:400], words=words)


def _next_round(told: Told) -> NextRound | None:
    if told.ahead is None:
        return None
    visit, known = told.coming[0], told.opened.case.investigation.visits
    return NextRound(
        visit=visit.id,
        planned_for=visit.limits.starts_at.date(),
        in_investigation=visit.id in {one.id for one in known},
        chance_of_finding=told.ahead.finding,
        samples=tuple(_samples(told)),
        minutes=round(told.ahead.chosen.walk.minutes, 1),
    )


def _samples(told: Told) -> Iterator[RoundSample]:
    if told.ahead is None:
        return
    surface = (one for one in told.ahead.chosen.timed if one.stop.kind == "surface")
    for order, one in enumerate(surface, 1):
        site = one.stop.at.site
        yield RoundSample(
            order=order,
            site=site.code,
            site_name=site.name,
            room=one.stop.room.id,
            zone=site.zone,
            device=one.stop.device,
            mode=one.stop.mode,
            arrive_at=one.arrive_at,
            why=f"Adds {100 * one.stop.gain:.1f} in 100 to the chance of detecting what may be left, given the others.",
        )


def _ahead(told: Told) -> Iterator[RoundsAhead]:
    for number, point in enumerate(told.ahead.points if told.ahead else (), 1):
        yield RoundsAhead(
            rounds=number,
            samples=point.samples,
            gone=point.gone,
            same_sites_again=point.same_again,
        )
