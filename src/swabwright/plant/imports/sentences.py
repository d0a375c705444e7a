"""What an import says to the person who asked for it."""

from collections.abc import Iterable, Iterator

from swabwright.plant.document import Plant
from swabwright.plant.imports.outcome import ImportOutcome


def outcome_lines(outcome: ImportOutcome) -> list[str]:
    """In sentences: what was guessed, put aside and assumed, and what came of it. Faults are told by the refusal."""
    lines = [*_section("Guessed from the files (a mapping file corrects any of it)", outcome.guesses)]
    lines += _section("Put aside and not used", map(str, outcome.set_aside))
    assumed = (f"{path}: {reason}" for path, reason in outcome.assumptions.items())
    lines += _section("Not confirmed by anybody", assumed)
    lines += [] if outcome.plant is None else _summary(outcome.plant, len(outcome.assumptions))
    return lines


def _section(title: str, entries: Iterable[str]) -> Iterator[str]:
    listed = list(entries)
    if listed:
        yield f"{title}: {len(listed)}"
        yield from (f"  {entry}" for entry in listed)
        yield ""


def _summary(plant: Plant, unconfirmed: int) -> list[str]:
    counts = (
        (len(plant.rooms), "room"),
        (len(plant.doors), "door"),
        (len(plant.equipment), "machine"),
        (len(plant.drains), "drain run"),
        (len(plant.routes), "route"),
        (len(plant.lines), "line"),
        (len(plant.sites), "site"),
    )
    parts = [f"{number} {noun}{'' if number == 1 else 's'}" for number, noun in counts if number]
    said = "Everything was stated." if not unconfirmed else f"{unconfirmed} values are not confirmed by anybody."
    return [f"{plant.name}: {', '.join(parts[:-1])} and {parts[-1]}. {said}"]
