"""Production lines: from a sheet, from drawn product ways, or one default line through the machines."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.flows import Flow, drawn_flows, machines_named, machines_on, way_through
from swabwright.plant.imports.names import find_name, make_id
from swabwright.plant.imports.schedule import line_hours
from swabwright.plant.lines import Line
from swabwright.plant.model import Point
from swabwright.plant.rooms import Equipment, Room
from swabwright.tables.table import Row

NOT_STATED = "not stated"


@dataclass(frozen=True)
class LineDraft:
    """A line before its hours are known: id, name, way, machines, and its row if it has one."""

    id: str
    name: str
    path: tuple[Point, ...]
    machines: tuple[str, ...]
    row: Row | None


def make_lines(
    context: Context, drawn: tuple[Sequence[Room], Sequence[Equipment]], timezone: str
) -> tuple[tuple[Line, ...], tuple[Equipment, ...]]:
    """The lines, and the machines with the line each belongs to. `drawn`: rooms and machines."""
    rooms, equipment = drawn
    drafts = _drafts(context, rooms, equipment)
    hours = line_hours(context, {draft.id: draft.name for draft in drafts}, timezone)
    lines = tuple(
        Line(
            id=draft.id,
            name=draft.name,
            product=_product(draft, context),
            path=draft.path,
            kg_per_hour=_output(draft, context),
            raw_material_may_carry=_raw_may_carry(draft, context),
            runs=tuple(hours[draft.id].runs),
            breaks=tuple(hours[draft.id].breaks),
            agreed_stops=tuple(hours[draft.id].agreed_stops),
        )
        for draft in drafts
    )
    line_of = {machine: draft.id for draft in reversed(drafts) for machine in draft.machines}
    return lines, tuple(each.model_copy(update={"line": line_of.get(each.id)}) for each in equipment)


def _drafts(context: Context, rooms: Sequence[Room], equipment: Sequence[Equipment]) -> list[LineDraft]:
    flows = drawn_flows(context)
    rows = context.rows("lines")
    if rows:
        return _from_rows(rows, flows, equipment, context)
    if flows:
        context.notes.assume("lines", "no sheet of lines; taken from the drawn product ways")
        return _from_flows(flows, equipment)
    return _default_line(context, rooms, equipment)


def _from_rows(
    rows: Sequence[Row], flows: list[Flow], equipment: Sequence[Equipment], context: Context
) -> list[LineDraft]:
    drafts: list[LineDraft] = []
    left = list(flows)
    groups = _rows_of_lines(rows, context)
    for name, group in groups.items():
        identifier = make_id(name, [draft.id for draft in drafts], "line")
        flow = _flow_named(name, left, len(groups))
        if flow:
            left.remove(flow)
        machines = [each for row in group for each in _machines_of(row, equipment, context)]
        path = _path(identifier, flow, machines, context)
        if path is None:
            problem = f"line '{name}' has no way; name its machines in order, or draw its product way"
            context.notes.fault(group[0].where, problem)
            continue
        on_it = machines or machines_on(path, equipment)
        drafts.append(LineDraft(identifier, name, path, tuple(each.id for each in on_it), group[0]))
    for flow in left:
        where = f"{context.drawing.name}, product way"
        context.notes.put_aside(where, flow.name or "", "no line of the sheet is named so")
    return drafts


def _rows_of_lines(rows: Sequence[Row], context: Context) -> dict[str, list[Row]]:
    """The rows of each line; a line in several rows has one machine in each, in order."""
    groups: dict[str, list[Row]] = {}
    for row in rows:
        groups.setdefault(row.text("line"), []).append(row)
    for name, group in groups.items():
        if len(group) > 1:
            numbers = ", ".join(str(row.number) for row in group)
            context.notes.guess(
                f"line '{name}' stands in rows {numbers}: one machine after another, the rest by the first"
            )
    return groups


def _machines_of(row: Row, equipment: Sequence[Equipment], context: Context) -> list[Equipment]:
    return machines_named(row.text("equipment"), equipment, context, row.where)


def _path(line: str, flow: Flow | None, machines: Sequence[Equipment], context: Context) -> tuple[Point, ...] | None:
    """The drawn way, else straight through the machines, unconfirmed; None when there is neither."""
    if flow:
        return flow.path
    if not machines:
        return None
    context.notes.assume(f"lines[{line}].path", "not drawn; straight from machine to machine")
    return way_through(machines)


def _flow_named(name: str, flows: Sequence[Flow], lines: int) -> Flow | None:
    """The drawn way with the line's name beside it; the only one drawn when there is only one line."""
    for flow in flows:
        if flow.name and find_name(name, {"it": flow.name}, 85.0):
            return flow
    return flows[0] if len(flows) == 1 and lines == 1 else None


def _from_flows(flows: Sequence[Flow], equipment: Sequence[Equipment]) -> list[LineDraft]:
    drafts: list[LineDraft] = []
    for number, flow in enumerate(flows, start=1):
        name = flow.name or f"Line {number}"
        machines = tuple(machine.id for machine in machines_on(flow.path, equipment))
        identifier = make_id(name, [draft.id for draft in drafts], "line")
        drafts.append(LineDraft(identifier, name, flow.path, machines, None))
    return drafts


def _default_line(context: Context, rooms: Sequence[Room], equipment: Sequence[Equipment]) -> list[LineDraft]:
    """One line through the machines of rooms with open food, from the dirtiest room to the cleanest."""
    open_rooms = {room.id: room.hygiene_class for room in rooms if room.exposed_product}
    machines = [machine for machine in equipment if machine.room in open_rooms]
    if not machines:
        context.notes.assume("lines", "no sheet of lines, no drawn product way and no machine; the plant has no line")
        return []
    ordered = sorted(machines, key=lambda each: (-open_rooms[each.room], each.room, each.outline[0]))
    context.notes.assume("lines", "no sheet of lines; one line through all machines, from raw to ready-to-eat")
    return [LineDraft("line-1", "Line 1", way_through(ordered), tuple(each.id for each in ordered), None)]


def _product(draft: LineDraft, context: Context) -> str:
    product = draft.row.text("product") if draft.row else ""
    if not product:
        context.notes.assume(f"lines[{draft.id}].product", "no sheet says what it makes")
    return product[:400] or NOT_STATED


def _output(draft: LineDraft, context: Context) -> float:
    path = f"lines[{draft.id}].kg_per_hour"
    stated = context.quantity(draft.row, "kg_per_hour", path) if draft.row else None
    if stated is not None and stated > 0:
        return stated
    usual = context.words.number("line.kg_per_hour")
    context.notes.assume(path, f"no sheet says it; {usual:g} kg per hour taken")
    return usual


def _raw_may_carry(draft: LineDraft, context: Context) -> bool:
    text = draft.row.text("raw_material") if draft.row else ""
    said = context.words.means(text, "yes", "no") if text else None
    if said is None:
        context.notes.assume(f"lines[{draft.id}].raw_material_may_carry", "no sheet says it; taken as possible")
    return said != "no"
