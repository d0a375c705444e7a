"""Everything the paper of clearance rounds says, as plain data for the template."""

from collections.abc import Iterator
from typing import Any

from swabwright.case.clearance import Clearance, Gone, NextRound, RoundsAhead
from swabwright.case.investigation import Investigation
from swabwright.case.plan import Chance
from swabwright.case.words import clock, out_of_100, with_range
from swabwright.plant.document import Plant
from swabwright.reports.action_letters import letter_of
from swabwright.reports.closing_words import SIMULATED
from swabwright.reports.plan_words import ORGANISMS
from swabwright.reports.sheet_words import device_name
from swabwright.reports.wording import listed, long_date, short_date

RELEASES_NOTHING = "This releases no product, and it is no decision to close: that is a signed act of its own."
UNDER = f"Under these assumptions; {SIMULATED}."
SENTENCES_FIRST = 4
"""So many of the document's sentences stand on the first page."""


def clearance_words(document: Clearance, plant: Plant, investigation: Investigation) -> dict[str, Any]:
    """The words of the first page and of the tables after it."""
    as_of = document.as_of
    return {
        "title": "What was done, and what the rounds found",
        "plant": plant.name,
        "about": listed(sorted({line.product for line in plant.lines})) or "no lines drawn",
        "organism": ORGANISMS.get(investigation.organism, investigation.organism.replace("_", " ").capitalize()),
        "agency": investigation.agency,
        "reference": investigation.reference,
        "draft": True,
        "computed_at": f"{as_of:%Y-%m-%d %H:%M}" if as_of else "",
        "foot": {
            "left": f"Case {investigation.reference}, clearance rounds{_of_strain(document)}",
            "middle": SIMULATED,
            "right": f"drawing {document.hashes.plant[:8]}",
        },
        "finding": document.sentences[0],
        "besides": [said for said in document.sentences[1:SENTENCES_FIRST] if said != document.required.words],
        "under": UNDER,
        "releases": RELEASES_NOTHING,
        "required": document.required.words,
        "required_source": document.required.source,
        "rounds": list(_rounds(document)),
        "actions": [{"picture": f"letter-{at}.svg", "letter": letter_of(at), "words": one.words}
                    for at, one in enumerate(document.actions)],
        "ahead": [_ahead(one) for one in document.ahead],
        "next": _next(document.next_round, {room.id: room.name for room in plant.rooms}),
        "left": [{"place": f"{one.name} ({one.place})" if ":" not in one.place else one.name,
                  "share": with_range(one.share)} for one in document.if_not_gone],
        "asks": list(document.asks),
        "assumptions": list(document.assumptions),
        "left_out": list(document.left_out),
        "lacking": f"Less sure than wished: {document.lacking}." if document.lacking else "",
        "sentences": list(document.sentences),
        "curve_alt": curve_alt(document),
        "made_from": _made_from(document),
    }  # fmt: skip


def _of_strain(document: Clearance) -> str:
    return f", strain {document.strain}" if document.strain else ""


def _rounds(document: Clearance) -> Iterator[dict[str, str]]:
    yield {"round": "before any", "taken": "", "results": "", "detected": ""} | _gone(document.before_rounds)
    for number, done in enumerate(document.rounds, 1):
        yield {
            "round": str(number),
            "taken": short_date(done.taken_on),
            "results": str(done.results),
            "detected": str(done.detected) if done.detected else "none",
        } | _gone(done.gone)


def _gone(gone: Gone) -> dict[str, str]:
    return {"gone": _in_column(gone.all_actions), "seen": _in_column(gone.seen_only)}


def _in_column(chance: Chance) -> str:
    """A chance under a heading that says 'in 100'."""
    return f"{out_of_100(chance.value)} ({out_of_100(chance.low)} to {out_of_100(chance.high)})"


def _ahead(one: RoundsAhead) -> dict[str, str]:
    return {
        "rounds": str(one.rounds),
        "samples": str(one.samples),
        "again": _in_column(one.same_sites_again),
    } | _gone(one.gone)


def _next(coming: NextRound | None, rooms: dict[str, str]) -> dict[str, Any]:
    if coming is None:
        return {"samples": [], "title": "", "words": ""}
    planned = (
        ""
        if coming.in_investigation
        else " The investigation names no such visit yet; the last one's limits were taken."
    )
    return {
        "title": f"The next round, {long_date(coming.planned_for)}",
        "words": "If a niche remains, these samples detect it with a chance of "
        f"{with_range(coming.chance_of_finding)}, under these assumptions.{planned}",
        "samples": [
            {"order": str(one.order), "at": clock(one.arrive_at), "site": f"{one.site_name} ({one.site})",
             "zone": f"Z{one.zone}", "room": rooms.get(one.room, one.room), "device": device_name(one.device),
             "why": one.why}
            for one in coming.samples
        ],
    }  # fmt: skip


def curve_alt(document: Clearance) -> str:
    """The curve in words."""
    after = [f"after round {n} {out_of_100(d.gone.all_actions.value)}" for n, d in enumerate(document.rounds, 1)]
    more = [f"with {one.rounds} more {out_of_100(one.gone.all_actions.value)}" for one in document.ahead]
    first = f"before any round {out_of_100(document.before_rounds.all_actions.value)}"
    return f"The chance in 100 that it is gone: {listed([first, *after, *more])}."


def _made_from(document: Clearance) -> str:
    hashes = document.hashes
    return (
        f"Made with Swabwright {document.software_version}, model {document.model_version}, seed {document.seed}, from "
        f"investigation {hashes.investigation[:16]}, plant {hashes.plant[:16]}, rulebook {hashes.rulebook[:16]}, "
        f"overrides {(hashes.overrides or 'none')[:16]}, figures {hashes.figures[:16]}, record "
        f"{hashes.record_head[:16]} (SHA-256, first 16 characters)."
    )
