"""The chance that it is gone, in sentences: for which strain, and with the actions that were seen done only."""

from collections.abc import Iterator

from swabwright.case.clearance import Clearance, Gone, RoundsAhead
from swabwright.case.plan import Chance
from swabwright.case.words import doubt, out_of_100, with_range

ANY_STRAIN = "any strain"
"""How a document of results that are read whichever strain they are is named."""
NOTHING_DONE = (
    "nothing has been done that counts, so what was there, if anything, is there still; a promise counts nothing."
)
EVEN = 0.5
TOLD_APART = 2.0
"""Two chances are the same while they differ by less than so many Monte Carlo errors."""
WHY_MORE = (
    "more, because rounds that detect nothing say less of a niche that was only reduced than of one left as it was"
)


def whose(one: Clearance, words: str) -> str:
    """A sentence with the strain that it speaks of before it, where the laboratory knows one."""
    if one.strain is None and not one.other_strains:
        return words[:1].upper() + words[1:]
    name = f"strain {one.strain}" if one.strain else ANY_STRAIN
    return f"{name[:1].upper()}{name[1:]}: {words}"


def others(one: Clearance) -> Iterator[str]:
    """Which strains are read by themselves."""
    if one.other_strains:
        yield f"Read by itself, in a document of its own: {', '.join(_named(name) for name in one.other_strains)}."


def how_likely(one: Clearance) -> Iterator[str]:
    """The headline, and beside it what the actions seen done make it."""
    if not acted(one):
        yield whose(one, NOTHING_DONE)
        return
    yield whose(one, _gone(one.now.all_actions))
    if _only_said(one):
        yield _seen_only(one)


def after_one_more(one: Clearance, point: RoundsAhead) -> str:
    """What a round more makes it, with and without actions that are only said."""
    every = out_of_100(point.gone.all_actions.value)
    if not _only_said(one) or not _any_seen(one):
        return every
    if _same(point.gone):
        return f"{every} (counting only what was seen done, the same)"
    more = f": {WHY_MORE}" if _more(point.gone) else ""
    return f"{every} ({out_of_100(point.gone.seen_only.value)} counting only what was seen done{more})"


def how_far_off(one: Clearance) -> Iterator[str]:
    """Why the range of the headline may be off, where something says so."""
    if doubted := doubt(one.now.all_actions):
        yield doubted


def acted(one: Clearance) -> bool:
    """Whether anything was done that can have removed a niche."""
    return any(action.removes > 0 for action in one.actions)


def unlike_words(one: Clearance) -> Iterator[str]:
    """Why a table may show more for the actions seen done than for all of them, where it does."""
    shown = [one.before_rounds, *(done.gone for done in one.rounds), *(point.gone for point in one.ahead)]
    if any(gone.seen_only.value > gone.all_actions.value for gone in shown) and _only_said(one):
        yield (
            "Counting only what was seen done can make the chance larger than counting all: rounds that detect nothing "
            "say less of a niche that was only reduced than of one left as it was."
        )


def _gone(chance: Chance) -> str:
    if chance.value >= EVEN:
        return f"it is probably gone, {with_range(chance)}."
    return f"it is more likely still there; the chance that it is gone is {with_range(chance)}."


def _seen_only(one: Clearance) -> str:
    if not _any_seen(one):
        return "Nobody of ours has seen an action done: counting only what was seen done, it is there still."
    told = "Counting only the actions that were seen done, the chance that it is gone is"
    seen = with_range(one.now.seen_only)
    if _same(one.now):
        return f"{told} the same, {seen}: the two differ by less than the simulated histories can tell."
    return f"{told} {seen}{f'; {WHY_MORE}' if _more(one.now) else ''}."


def _only_said(one: Clearance) -> bool:
    return any(action.removes > 0 and action.known_by == "said" for action in one.actions)


def _any_seen(one: Clearance) -> bool:
    return any(action.removes > 0 and action.known_by == "seen" for action in one.actions)


def _same(gone: Gone) -> bool:
    error = gone.difference_error or 0.0
    return abs(gone.all_actions.value - gone.seen_only.value) <= TOLD_APART * error


def _more(gone: Gone) -> bool:
    return gone.seen_only.value > gone.all_actions.value


def _named(strain: str) -> str:
    return strain if strain == ANY_STRAIN else f"strain {strain}"
