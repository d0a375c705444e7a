"""Strict reading of documents: migrate nothing, repair nothing, name every fault with its path and remedy."""

from collections.abc import Mapping, Sequence
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from swabwright.errors import DocumentRefused, Fault, did_you_mean
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.field_faults import field_faults
from swabwright.plant.geometry import geometry_faults
from swabwright.plant.json_text import parse_json
from swabwright.plant.references import reference_faults

Document = TypeVar("Document", bound=BaseModel)


def read_document(model: type[Document], text: str, name: str) -> Document:
    """The document that the text holds; `DocumentRefused` names every fault by its path (`sites[14].room`)."""
    # Some editors put a byte order mark in front; it says nothing and changes no field.
    document = parse_json(text.removeprefix("\ufeff"), name)
    faults = _heading_faults(model, document)
    if faults:
        raise DocumentRefused(name, faults)
    try:
        # From the text, not from the parsed values: only JSON mode takes arrays for tuples and words for dates
        # while staying strict about everything else.
        return model.model_validate_json(text.removeprefix("\ufeff"))
    except ValidationError as error:
        raise DocumentRefused(name, field_faults(model, error.errors())) from error


def read_plant(text: str, catalogue: Catalogue, name: str = "plant.json") -> Plant:
    """The plant that the text holds, its references and its geometry checked; refused with every fault."""
    plant = read_document(Plant, text, name)
    faults = plant_faults(plant, catalogue)
    if faults:
        raise DocumentRefused(name, faults)
    return plant


def plant_faults(plant: Plant, catalogue: Catalogue) -> tuple[Fault, ...]:
    """Every dangling name, name given twice, impossible time and impossible shape; empty when there is none."""
    return (*reference_faults(plant, catalogue), *geometry_faults(plant))


def _heading_faults(model: type[BaseModel], document: Mapping[str, Any]) -> Sequence[Fault]:
    """Faults of `format` and `version`, which are told alone: the rest of a foreign document says nothing."""
    wanted, version = _fixed(model, "format"), _fixed(model, "version")
    if wanted is not None and document.get("format") != wanted:
        return [Fault("format", _format_problem(document.get("format"), wanted))]
    found = document.get("version")
    # `True == 1` in Python, so the type is asked as well.
    if version is None or (type(found) is int and found == version):
        return []
    if type(found) is int and found > version:
        return [Fault("version", f"{found} is newer than this program reads ({version}); use a newer program")]
    return [Fault("version", f"must be {version}, not {found!r}")]


def _format_problem(found: object, wanted: str) -> str:
    if found is None:
        return f'is missing; the document must start with "format": "{wanted}"'
    return f"this is {found!r}, but '{wanted}' belongs here{did_you_mean(str(found), [wanted])}"


def _fixed(model: type[BaseModel], field: str) -> Any:
    """The one value that a field of this document type may have, or None."""
    if field not in model.model_fields:
        return None
    values = get_args(model.model_fields[field].annotation)
    return values[0] if len(values) == 1 else None
