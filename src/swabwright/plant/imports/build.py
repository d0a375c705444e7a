"""A plant document from a plant's own files."""

from shapely.geometry import Polygon

from swabwright.errors import SwabwrightError
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.imports.about import find_plant_name, find_timezone
from swabwright.plant.imports.barriers import with_barriers
from swabwright.plant.imports.base import check_ways, find_base
from swabwright.plant.imports.cleaning import make_cleanings
from swabwright.plant.imports.context import Context
from swabwright.plant.imports.doors import make_doors
from swabwright.plant.imports.draft import draft_mapping
from swabwright.plant.imports.drains import make_drains
from swabwright.plant.imports.drawing import Drawing
from swabwright.plant.imports.dxf import check_closed, open_dxf, read_shapes
from swabwright.plant.imports.equipment import make_equipment
from swabwright.plant.imports.layers import find_layers
from swabwright.plant.imports.lines import make_lines
from swabwright.plant.imports.notes import Notes
from swabwright.plant.imports.outcome import ImportOutcome, Sources
from swabwright.plant.imports.overhead import make_air, make_overhead
from swabwright.plant.imports.rooms import make_rooms
from swabwright.plant.imports.routes import make_routes
from swabwright.plant.imports.scale import find_unit, in_metres
from swabwright.plant.imports.sheets import find_tables
from swabwright.plant.imports.sites import make_sites
from swabwright.plant.imports.surroundings import Surroundings
from swabwright.plant.imports.vocabulary import load_vocabulary
from swabwright.plant.imports.workstations import make_workstations
from swabwright.plant.reading import plant_faults
from swabwright.plant.sites import Site


def import_plant(sources: Sources, catalogue: Catalogue) -> ImportOutcome:
    """The plant as its files have it, with every guess, default and thing put aside; no plant when anything is wrong.

    Raises SwabwrightError when a file cannot be read at all.
    """
    context = _gather(sources, catalogue)
    notes = context.notes
    plant = _assemble(context, sources)
    # The document is held to the rules of every plant document, so that nothing unreadable is written.
    if plant is not None:
        notes.faults += plant_faults(plant, catalogue)
    stopped = bool(notes.faults or notes.unmatched)
    return ImportOutcome(
        plant=None if stopped else plant,
        guesses=tuple(notes.guesses),
        unmatched=tuple(notes.unmatched),
        set_aside=tuple(notes.set_aside),
        assumptions=dict(notes.assumptions),
        faults=tuple(notes.faults),
        draft=draft_mapping(context),
    )


def _gather(sources: Sources, catalogue: Catalogue) -> Context:
    """The sheets and the drawing, read and in metres."""
    notes, words, mapping = Notes(), load_vocabulary(catalogue.figures), sources.mapping
    tables = find_tables(sources.files, mapping, words, notes)
    if "sites" not in tables:
        raise SwabwrightError(
            f"{sources.sites.name}: no sheet looks like a list of sites (code, name, kind, room); "
            "name it in the mapping file, [sheets.sites] sheet and columns"
        )
    document = open_dxf(sources.drawing)
    drawing = read_shapes(document, sources.drawing.name)
    check_closed(drawing)
    _list_unread(drawing, notes)
    layers = find_layers(drawing, mapping.drawing, words, notes)
    header = (mapping.drawing.unit, document.header.get("$INSUNITS", 0), document.header.get("$MEASUREMENT"))
    unit = find_unit(drawing.on(layers.of("rooms")), header, words, notes)
    return Context(in_metres(drawing, unit, notes), unit, layers, tables, mapping, words, catalogue, notes)


NO_ROOMS = (
    "no closed shape on the layer of the rooms; draw each room as a closed polyline there, "
    "or name the right layer under [drawing.layers] in the mapping file"
)


def _list_unread(drawing: Drawing, notes: Notes) -> None:
    """Put aside what a floor plan cannot be read from: solids, hatches, dimensions and the like, counted by kind."""
    kinds = {**drawing.others, **({"3D FACE OR SOLID": drawing.solids} if drawing.solids else {})}
    for kind, number in sorted(kinds.items()):
        notes.put_aside(drawing.name, f"{number} {kind}", "neither lines nor texts nor symbols")


def _assemble(context: Context, sources: Sources) -> Plant | None:
    """The plant, or None when its drawing gives no rooms or its list no sites; the faults say so."""
    timezone = find_timezone(context)
    rooms = make_rooms(context)
    if not rooms:
        if not context.notes.faults:
            context.notes.fault(context.drawing.name, NO_ROOMS)
        return None
    lines, equipment = make_lines(context, (rooms, make_equipment(context, rooms)), timezone)
    # Sites come last of what is drawn: they refer to rooms, machines, drains and lines.
    around = Surroundings(
        rooms=rooms,
        equipment=equipment,
        drains=make_drains(context),
        overhead=make_overhead(context, rooms),
        lines=lines,
        floors={room.id: Polygon(room.outline) for room in rooms},
    )
    sites = make_sites(context, around, _keys(sources))
    if not sites:
        context.notes.fault(sources.sites.name, "no site is left to take over")
        return None
    return _plant(context, around, sites, timezone)


def _plant(context: Context, around: Surroundings, sites: tuple[Site, ...], timezone: str) -> Plant:
    rooms, lines = tuple(around.rooms), tuple(around.lines)
    base = find_base(context, around)
    doors = with_barriers(context, make_doors(context, rooms), rooms)
    check_ways(context, doors, sites, around.room_at(base, reach_m=1.0) or rooms[0].id)
    air, routes = make_air(context, rooms), make_routes(context)
    cleanings, workstations = make_cleanings(context, rooms, lines), make_workstations(context, sites)
    return Plant(
        format="swabwright/plant",
        version=1,
        name=find_plant_name(context),
        ecology="wet",
        timezone=timezone,
        base=base,
        rooms=rooms,
        doors=doors,
        drains=tuple(around.drains),
        equipment=tuple(around.equipment),
        overhead=tuple(around.overhead),
        air=air,
        lines=lines,
        routes=routes,
        workstations=workstations,
        cleanings=cleanings,
        sites=sites,
        unconfirmed=dict(context.notes.assumptions),
    )


def _keys(sources: Sources) -> dict[str, str]:
    """Permanent keys to keep, by code: of the earlier import, overruled by the mapping."""
    earlier = {site.code: site.key for site in sources.earlier.sites} if sources.earlier else {}
    return {**earlier, **sources.mapping.keys}
