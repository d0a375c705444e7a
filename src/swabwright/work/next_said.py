"""What a proposal for the next visit says, in sentences, the most important first."""

from collections.abc import Iterator

from swabwright.case.next_visit import MaterialSample, NextVisit, WayGives
from swabwright.case.words import counted, doubt, in_100, out_of_100, with_range
from swabwright.work.summary import UNDER

SAID_FIRST = 3
LIST_MORE = "and {} more"
LONGEST_NAME, MOST_LETTERS = 40, 400


def next_sentences(document: NextVisit) -> tuple[str, ...]:
    """The sentences of a proposal: what to sample, what it would settle, other ways, material, caution."""
    return tuple(_sentences(document))


def _sentences(document: NextVisit) -> Iterator[str]:
    ours, *others = document.ways
    yield _what(document, ours)
    yield _settle(document, ours)
    if doubt(ours.chance_of_finding):
        yield doubt(ours.chance_of_finding)
    yield _open(document)
    yield from _strains(document)
    yield from (_beside(document, other) for other in others)
    yield from (sentence for one in document.materials for sentence in _material(one))
    if document.lacking:
        yield f"Take these figures with caution: {document.lacking}."
    if document.left_out:
        more = len(document.left_out) - 1
        yield f"Not read: {document.left_out[0]}{'; ' + LIST_MORE.format(more) if more else ''}."[:MOST_LETTERS]
    yield (
        "Given at most two niches. Tested on simulated plants only. This is decision support; site rules and the "
        "plant's own staff decide."
    )


def _what(document: NextVisit, ours: WayGives) -> str:
    names = [f"{one.site_name[:LONGEST_NAME]} ({one.site})" for one in document.samples]
    rest = len(names) - SAID_FIRST
    listed = ", ".join([*names[:SAID_FIRST], *([LIST_MORE.format(rest)] if rest > 0 else [])])
    told = sum(one.chosen_for == "what it says" for one in document.samples)
    samples = counted(len(names), "surface sample")
    if document.nothing_stands_out:
        return (
            f"No sample stands out for what it would say about where it lives; these {samples} were chosen to find it: "
            f"{listed}."
        )
    filled = len(names) - told
    were = "was" if filled == 1 else "were"
    further = (
        f"; {filled} of them {were} chosen to find it, as nothing else that the limits have room for stands out"
        if filled
        else ""
    )
    return (
        f"Next: {samples} at {listed}{further}. Expected to say {ours.bits.value:.1f} of the "
        f"{document.so_far.open_bits.value:.1f} bits that are open about where it lives, {UNDER}."
    )


def _settle(document: NextVisit, ours: WayGives) -> str:
    return (
        f"They would let one site be named as where it most likely lives (chance above {out_of_100(document.claim)} in "
        f"100) with a chance of {with_range(ours.chance_of_a_claim)}, and name a right one with "
        f"{in_100(ours.of_it_right.value)}, {UNDER}. If it lives in this plant, they find it with a chance of "
        f"{with_range(ours.chance_of_finding)}, and one sits on the niche itself and finds it with "
        f"{with_range(ours.chance_of_hitting)}."
    )


def _open(document: NextVisit) -> str:
    so_far, first = document.so_far, document.so_far.leading[0]
    strain = f" for strain {so_far.strain}" if so_far.strain else ""
    return (
        f"So far {counted(so_far.results, 'result')}{strain}, {so_far.detected} detected, leave "
        f"{so_far.open_bits.value:.1f} bits open among {so_far.told_apart} sets of niches; it lives most likely at "
        f"{first.name}, {in_100(first.share)}, {UNDER}."
    )


def _strains(document: NextVisit) -> Iterator[str]:
    """That there are other strains, each with a place of its own."""
    strains = document.so_far.strains
    if len(strains) > 1:
        read = f"strain {document.so_far.strain}" if document.so_far.strain else "any strain"
        yield f"The laboratory told {len(strains)} strains apart; this goes by {read}, and --strain asks for another."


def _beside(document: NextVisit, other: WayGives) -> str:
    how = ""
    if other.way == "around_a_positive":
        within = counted(document.within_radius or 0, "site")
        how = f", nearest first on foot, {within} within {document.radius_m:g} m of a detected one"
    number = counted(len(other.sites), "sample")
    return (
        f"Beside it, {number} by '{other.words}'{how}: {other.bits.value:.1f} bits, naming one site "
        f"{in_100(other.chance_of_a_claim.value)}, a right one {in_100(other.of_it_right.value)}, finding it "
        f"{in_100(other.chance_of_finding.value)}, hitting the niche {in_100(other.chance_of_hitting.value)}."
    )


def _material(one: MaterialSample) -> Iterator[str]:
    yield f"To test whether it came in with material: {one.words}"
    kind = "incoming material" if one.kind == "incoming" else "product"
    yield (
        f"The chance that it came in with material of {one.line_name} is {with_range(one.incoming_before)}; detected "
        f"in its {kind} it would be {with_range(one.incoming_if_detected)}, not detected "
        f"{with_range(one.incoming_if_not_detected)}, {UNDER}."
    )
