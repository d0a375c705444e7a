"""Use case: a plant's own files become plant.json, or nothing is written."""

from dataclasses import dataclass
from pathlib import Path

from swabwright.case.canonical import readable_json
from swabwright.case.writing import write_all
from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.imports.build import import_plant
from swabwright.plant.imports.draft import mapping_text
from swabwright.plant.imports.mapping import ImportMapping, read_mapping
from swabwright.plant.imports.outcome import ImportOutcome, Sources
from swabwright.plant.reading import read_plant


@dataclass(frozen=True)
class ImportRequest:
    """What to import, and where the documents go."""

    sites: Path
    drawing: Path
    out: Path
    further: tuple[Path, ...] = ()
    mapping: Path | None = None
    keep_keys: Path | None = None
    mapping_draft: Path | None = None


def import_files(request: ImportRequest, catalogue: Catalogue) -> ImportOutcome:
    """The outcome, with plant.json written when nothing stops it, and the mapping draft when asked for.

    The draft is written also on a refusal, since it is what a person corrects; plant.json is not.
    Raises SwabwrightError when a file cannot be read at all.
    """
    sources = Sources(
        sites=request.sites,
        drawing=request.drawing,
        further=request.further,
        mapping=read_mapping(request.mapping) if request.mapping else ImportMapping(),
        earlier=_earlier(request.keep_keys, catalogue),
    )
    outcome = import_plant(sources, catalogue)
    if request.mapping_draft:
        _write(request.mapping_draft, mapping_text(outcome.draft).encode())
    if outcome.plant is not None:
        content = readable_json(outcome.plant)
        read_plant(content.decode(), catalogue, request.out.name)
        _write(request.out, content)
    return outcome


def refuse(outcome: ImportOutcome) -> None:
    """Raises DocumentRefused naming every fault and every unmatched kind, when the outcome has no plant."""
    if outcome.plant is None:
        unmatched = [Fault("", str(each)) for each in outcome.unmatched]
        raise DocumentRefused("plant import", [*outcome.faults, *unmatched])


def _earlier(path: Path | None, catalogue: Catalogue) -> Plant | None:
    if path is None:
        return None
    if not path.is_file():
        raise SwabwrightError(f"{path.name}: there is no such plant document to keep the keys of")
    return read_plant(path.read_text(encoding="utf-8"), catalogue, path.name)


def _write(path: Path, content: bytes) -> None:
    write_all(path.parent, {path.name: content})
