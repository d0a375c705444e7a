"""What a clearance document says, in sentences, the most important first."""

from collections.abc import Iterator

from swabwright.belief.prior import LINE
from swabwright.case.clearance import Clearance, Left
from swabwright.case.words import counted, day, in_100, out_of_100, with_range
from swabwright.plant.figures import Figures
from swabwright.record.floor import HoldAnswered
from swabwright.record.standing import standing
from swabwright.reports.wording import short_date
from swabwright.work.clearance_actions import ActionDone
from swabwright.work.clearance_gone_words import acted, after_one_more, how_far_off, how_likely, others
from swabwright.work.clearance_told import Told

KINDS = {
    "surface_cleaning": "surface cleaning",
    "opened_and_heated": "opened and heated or steamed",
    "replaced_or_rebuilt": "part replaced or floor rebuilt",
    "other": "another kind of action",
    None: "an action of a kind that nobody has named",
}
KNOWN = {
    "seen": "seen done",
    "said": "the plant says so, nobody of ours has seen it",
    "promised": "promised, which counts nothing",
    "asked": "asked, which counts nothing",
}
RELEASES_NOTHING = "This releases no product, and it is no decision to close: that is a signed act of its own."
MOST_LETTERS = 400


def sentences(one: Clearance) -> Iterator[str]:
    """The summary."""
    yield from how_likely(one)
    yield from _if_not(one)
    yield from _one_more(one)
    yield from how_far_off(one)
    yield from others(one)
    yield from _course(one)
    yield one.required.words
    yield from one.asks
    yield RELEASES_NOTHING
    yield "Under these assumptions, and tested on simulated plants only:"
    yield from one.assumptions
    yield from one.left_out
    if one.lacking:
        yield f"Less sure than wished: {one.lacking}."


def _if_not(one: Clearance) -> Iterator[str]:
    if not one.if_not_gone:
        return
    named = "; ".join(f"{_place(left)}, {with_range(left.share)}" for left in one.if_not_gone)
    where = "If it is not gone, it" if acted(one) else "If it was there, it"
    yield f"{where} is most likely at or in: {named}."[:MOST_LETTERS]
    if any(left.place.startswith(LINE) for left in one.if_not_gone):
        yield "No surface sample settles whether it comes in with material: take samples of what comes in besides."


def _place(left: Left) -> str:
    # only a site has a code that a reader knows
    return left.name if ":" in left.place else f"{left.name} ({left.place})"


def _one_more(one: Clearance) -> Iterator[str]:
    if not one.ahead or one.next_round is None:
        return
    first, last = one.ahead[0], one.ahead[-1]
    yield (
        f"One more round of {first.samples} with nothing detected makes it {after_one_more(one, first)}; such a round "
        f"detects what may be left with a chance of {with_range(one.next_round.chance_of_finding)}."
    )
    if last.rounds > 1:
        yield (
            f"{last.rounds} more rounds, each planned anew, make it {out_of_100(last.gone.all_actions.value)}; the "
            f"same sites {last.rounds} times over make it {out_of_100(last.same_sites_again.value)}, because "
            "'not detected' again at one site is mostly the same answer."
        )


def _course(one: Clearance) -> Iterator[str]:
    for action in one.actions:
        yield action.words
    if not acted(one):
        return
    yield f"Before any round the chance that it is gone was {with_range(one.before_rounds.all_actions)}."
    for number, done in enumerate(one.rounds, 1):
        found = f"{done.detected} detected" if done.detected else "nothing detected"
        yield (
            f"{_round_name(number, done.name)}, {short_date(done.taken_on)}: {counted(done.results, 'result')}, "
            f"{found}; after it {with_range(done.gone.all_actions)}."
        )


def _round_name(number: int, visit: str) -> str:
    """The round by its number and its visit's own name, unless that says the number already."""
    said = f"Clearance round {number}"
    return visit if visit.casefold().startswith(said.casefold()) else f"{said}, {visit}"


def action_words(one: ActionDone, figures: Figures) -> str:
    """What one action is taken to have done."""
    codes = [site.code for site in one.sites]
    where = f"{len(codes)} sites of {' and '.join(one.rooms)}" if one.rooms else ", ".join(codes[:6])
    at = f", {day(one.at)}" if one.at else ""
    said = f"Action '{one.name}' ({KINDS[one.kind]}; {KNOWN[one.known_by]}{at})"
    if one.why_unread:
        return f"{said}: {one.why_unread}."
    if not one.counts:
        return f"{said} at {where}."
    more = " It disturbed its sites, so earlier rounds do not count there." if one.disturbs else ""
    return (
        f"{said} at {where}: taken to have removed a niche there with a chance of {in_100(one.chance(figures))}.{more}"
    )


def asks(told: Told) -> Iterator[str]:
    """What to ask for besides the rounds, and what happens to product meanwhile."""
    yield "Let one round be unannounced, and one at the end of a production week."
    yield "Ask for the sanitation log of the day before every round."
    yield _product(told)


def _product(told: Told) -> str:
    """What the record says of product on hold, the last answer of each line."""
    names = {line.id: line.name for line in told.opened.case.plant.lines}
    last: dict[str, str] = {}
    for entry in standing(told.entries):
        if isinstance(body := entry.statement.body, HoldAnswered):
            since = f" since lot {body.since_lot}" if body.since_lot else ""
            last[body.line] = f"{names.get(body.line, body.line)}: {body.answer.replace('_', ' ')}{since}"
    said = "; ".join(last[line] for line in sorted(last)) or "no answer"
    return (
        "Product made meanwhile stays on hold, or is tested lot by lot, until the officer named for product decides; "
        f"the record says of holds: {said}."
    )


def assumptions(told: Told) -> Iterator[str]:
    """What the figures rest on, in sentences."""
    basis = told.now.all_actions.basis
    yield f"{basis[:1].upper()}{basis[1:]}."
    yield f"Prior {told.standings[-1].every.prior}."
    yield "It was somewhere: at a site, where nothing is drawn, or in incoming material; gone means from all of these."
    if told.begun.course.actions:
        yield from _of_actions(told.opened.figures)


def _of_actions(figures: Figures) -> Iterator[str]:
    """What is assumed of actions, and how such claims held."""
    yield (
        "What actions remove is assumed, nobody has confirmed it: surface cleaning "
        f"{in_100(figures.number('clearance.gone.surface_cleaning'))}, opened and heated "
        f"{in_100(figures.number('clearance.gone.opened_and_heated'))}, replaced or rebuilt "
        f"{in_100(figures.number('clearance.gone.replaced_or_rebuilt'))}; what only the plant has seen counts "
        f"{in_100(figures.number('clearance.said_share'))} of that, and a niche that is not removed keeps between all "
        f"and a thousandth of itself and grows again."
    )
    yield (
        "Actions between the same two visits are read as done at the last of them, and what several at one site do "
        "not remove is reduced once only, at the first."
    )
    held = figures.number("clearance.held_of_95")
    yield f"On invented plants that differ badly from their drawing, claims of 95 in 100 held {in_100(held)}."


def left_out(told: Told) -> Iterator[str]:
    """What was not read, and why."""
    since, course = told.begun.since, told.begun.course
    if course.between:
        yield (
            f"{counted(len(course.between), 'visit')} between the actions: read, but no clearance round, because only "
            "rounds after the last action count."
        )
    if since.disturbed:
        yield (
            f"{counted(since.disturbed, 'result')} at sites that a later action disturbed: left out, because rounds "
            "before it do not count there."
        )
    if since.materials:
        yield f"{counted(since.materials, 'test')} of product or material since the first action: not read here."
    yield from told.left_out
