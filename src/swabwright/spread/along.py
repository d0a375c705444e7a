"""Line, drain flow and backflow: what is carried along a line or a pipe, less with every metre."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from swabwright.plant.lines import Line
from swabwright.plant.rooms import Drain
from swabwright.spread.drawing import Drawing
from swabwright.spread.reach import Reach, Target, same_family, with_remainder
from swabwright.spread.tracks import Track, carried


@dataclass(frozen=True)
class Conveyor:
    """One directed way with the rows on it, and how its reasons are worded."""

    mechanism: str
    way: str
    track: Track
    rows: tuple[int, ...]
    factor: float
    words: str
    """A sentence with `{source}` and `{metres}`."""
    remainder: str


def reaches_along(drawing: Drawing) -> Iterator[Reach]:
    """What product carries down each line, and water along and against each pipe."""
    for line in drawing.plant.lines:
        yield from _on_line(drawing, line)
    for drain in drawing.plant.drains:
        for conveyor in _in_pipe(drawing, drain):
            for row in conveyor.rows:
                yield _from_row(drawing, conveyor, row, f"room:{drawing.places[row].room}")


def _on_line(drawing: Drawing, line: Line) -> Iterator[Reach]:
    rows = tuple(row for row, place in drawing.sites() if place.touches_food and _line_of(drawing, row) == line.id)
    conveyor = Conveyor(
        mechanism="line",
        way=line.id,
        track=Track(line.path, drawing.number("mechanism.line.width_m")),
        rows=rows,
        factor=1.0,
        words=f"product on {line.name} touches {{source}} and then it, {{metres}} m further on",
        remainder=f"product on {line.name} touches what nobody drew",
    )
    for row in rows:
        yield _from_row(drawing, conveyor, row, f"line:{line.id}")
    yield _from_incoming(drawing, conveyor, line)


def _line_of(drawing: Drawing, row: int) -> str | None:
    site = drawing.places[row].site
    return site.line if site is not None else None


def _from_row(drawing: Drawing, conveyor: Conveyor, row: int, clock: str) -> Reach:
    place = drawing.places[row]
    start = conveyor.track.metres_to(place.position)
    others = [to for to in conveyor.rows if not same_family(place, drawing.places[to])]
    targets = _targets(drawing, conveyor, start, others, place.label)
    filled = with_remainder(targets, drawing.rest_row[place.room], conveyor.remainder)
    return Reach(row, conveyor.mechanism, conveyor.way, clock, conveyor.factor, filled)


def _from_incoming(drawing: Drawing, conveyor: Conveyor, line: Line) -> Reach:
    """Incoming material starts at the head of the line."""
    targets = _targets(drawing, conveyor, 0.0, list(conveyor.rows), "incoming material")
    room = drawing.space.room_at(line.path[0]) or next(iter(drawing.rest_row))
    filled = with_remainder(targets, drawing.rest_row[room], conveyor.remainder)
    return Reach(drawing.incoming[line.id], "line", line.id, f"line:{line.id}", 1.0, filled)


def _targets(drawing: Drawing, conveyor: Conveyor, start: float, rows: list[int], source: str) -> list[Target]:
    kernel_m, track = drawing.mechanisms[conveyor.mechanism].kernel_m, conveyor.track
    targets = []
    for to in rows:
        place = drawing.places[to]
        metres = track.metres_to(place.position)
        share = carried(start, track.stretch(metres, place.area_m2), kernel_m)
        if share > 0:
            reason = conveyor.words.format(source=source, metres=f"{max(0.0, metres - start):.1f}")
            targets.append(Target(to, share, reason))
    return targets


def _in_pipe(drawing: Drawing, drain: Drain) -> Iterator[Conveyor]:
    """Flow with the water and backflow against it; where nobody has said which way it runs, half of each both ways."""
    rows = tuple(row for row, place in drawing.sites() if place.site is not None and place.site.drain == drain.id)
    along = Conveyor(
        mechanism="drain_flow",
        way=drain.id,
        track=Track(drain.path, drawing.number("mechanism.drain_flow.width_m")),
        rows=rows,
        factor=1.0,
        words=f"water in {drain.name} runs from {{source}} to it, {{metres}} m on",
        remainder=f"water in {drain.name} carries it on to where nothing is drawn",
    )
    against = replace(
        along,
        mechanism="backflow",
        track=along.track.reversed(),
        words=f"water backs up in {drain.name} from {{source}} to it, {{metres}} m",
        remainder=f"water backs up in {drain.name} to where nothing is drawn",
    )
    yield from _directed(along, against, drain)


def _directed(along: Conveyor, against: Conveyor, drain: Drain) -> Iterator[Conveyor]:
    turned = replace(along, track=against.track), replace(against, track=along.track)
    if drain.flow == "along":
        yield from (along, against)
    elif drain.flow == "against":
        yield from turned
    else:
        for conveyor, suffix in zip((along, against, *turned), (">", ">", "<", "<"), strict=True):
            words = f"{conveyor.words} (nobody has said which way it runs)"
            yield replace(conveyor, factor=0.5, way=f"{conveyor.way}{suffix}", words=words)
