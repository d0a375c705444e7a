"""What the clock says in words: changes before a stop, barriers on the way, waits, what a site needs."""

from swabwright.planning.walk_legs import Way
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.lines import Line
from swabwright.plant.rooms import Door

FULL_CHANGE = "gown, gloves and boots"
GLOVES_AND_SLEEVES = "gloves and sleeves"
BOOTS = "boots and gloves"
ISOLATED = "stopped and isolated (lockout/tagout) by plant staff, seen by the sampler"
BY_MECHANIC = "plant mechanic opens it and puts it together again"
BY_HAND = "plant staff open it and close it again"


def changes_before(before: WalkStop | None, stop: WalkStop, way: Way) -> tuple[str, ...]:
    """What is changed between two stops: everything where the class rises, else gloves and sleeves at a new visit."""
    if before is None or before.key.hygiene_class != stop.key.hygiene_class:
        return (FULL_CHANGE,)
    if any(door.barrier == "full_change" for door in way.doors):
        return (FULL_CHANGE,)
    if any(door.barrier == "boots" for door in way.doors):
        return (GLOVES_AND_SLEEVES, BOOTS)
    return () if (before.key.group, before.room.id) == (stop.key.group, stop.room.id) else (GLOVES_AND_SLEEVES,)


def barrier_words(door: Door) -> str:
    """A hygiene barrier on the way: `door-1: boots and gloves`."""
    return f"{door.id}: {FULL_CHANGE if door.barrier == 'full_change' else BOOTS}"


def wait_words(stop: WalkStop, line: Line | None) -> str:
    """What is waited for before a stop."""
    return f"until {line.name if line else 'the machine'} stands, for {stop.code}"


def needs_words(stop: WalkStop) -> tuple[str, ...]:
    """Stop, isolation, mechanic and cleaning that a site asks for, in words, with the minutes down."""
    halt = stop.halt
    down = f" for {halt.minutes_down:g} minutes" if halt.minutes_down else ""
    said = (
        (halt.needs_line_stop, f"line stands{down}"),
        (halt.needs_isolation, ISOLATED),
        (halt.mechanic, BY_MECHANIC),
        (_opened_by_hand(stop), BY_HAND),
        (halt.reclean_before_restart, "cleaned and disinfected by the plant before restart"),
    )
    return tuple(words for needed, words in said if needed)


def _opened_by_hand(stop: WalkStop) -> bool:
    return stop.mode == "opened" and stop.kind != "blank" and not stop.halt.mechanic
