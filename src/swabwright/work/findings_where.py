"""Where it lives: by place, machine and room, the credible set, and how far a claim may go."""

from collections.abc import Sequence

from swabwright.case.findings import CredibleSet, GroupFinding, PlaceFinding, Support
from swabwright.case.words import counted, in_100
from swabwright.inference.credible import credible_set
from swabwright.inference.quantities import another_beside, niche_at, niche_within, remains_without, share_of
from swabwright.work.findings_places import Group
from swabwright.work.findings_read import ReadStrain


def place_findings(read: ReadStrain) -> tuple[PlaceFinding, ...]:
    """Every place, the largest share first."""
    share, spots = read.after.share, read.spots.every
    order = sorted(range(len(spots)), key=lambda at: (-share[at], spots[at].code))
    return tuple(_place(read, at) for at in order)


def _place(read: ReadStrain, at: int) -> PlaceFinding:
    spot, told = read.spots.every[at], read.readings.told
    return PlaceFinding(
        place=spot.code,
        name=spot.name,
        room=spot.room,
        machine=spot.machine,
        niche_here=told(niche_at(at)),
        share=told(share_of((at,))),
        remains_if_removed=told(remains_without(at)),
        another_too=told(another_beside(at)),
    )


def group_findings(read: ReadStrain, groups: Sequence[Group]) -> tuple[GroupFinding, ...]:
    """Machines or rooms, the likeliest first."""
    found = [
        GroupFinding(
            group=group.id,
            name=group.name,
            niche_within=read.readings.told(niche_within(group.sources)),
            share=read.readings.told(share_of(group.sources)),
        )
        for group in groups
    ]
    return tuple(sorted(found, key=lambda one: (-one.niche_within.value, one.group)))


def credible_of(read: ReadStrain, wanted: float) -> CredibleSet:
    """The fewest places that hold a randomly chosen niche with the wanted chance, in a sentence."""
    spots = read.spots.every
    held = credible_set(read.after.share, tuple(spot.code for spot in spots), wanted)
    chance = read.readings.told(share_of(held))
    return CredibleSet(
        places=tuple(spots[at].code for at in held),
        asked=100.0 * wanted,
        chance=chance,
        words=(
            f"{counted(len(held), 'place')} hold a niche that is picked at random from those there are with a chance "
            f"of at least {in_100(wanted)}; no fewer places do"
        ),
    )


def supported(
    places: Sequence[PlaceFinding], machines: Sequence[GroupFinding], rooms: Sequence[GroupFinding], needed: float
) -> tuple[Support, str | None]:
    """How far the chance carries a claim, and to what: a place, else a machine, else a room, else none yet."""
    first = max(places, key=lambda place: place.niche_here.value)
    if first.niche_here.value > needed:
        if first.machine is None and first.room is None:
            return "incoming", first.place
        return ("room", first.room) if first.place.startswith("room:") else ("site", first.place)
    levels: tuple[tuple[Support, Sequence[GroupFinding]], ...] = (("machine", machines), ("room", rooms))
    for level, groups in levels:
        if groups and groups[0].niche_within.value > needed:
            return level, groups[0].group
    return "none", None
