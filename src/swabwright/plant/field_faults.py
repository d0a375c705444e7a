"""What is wrong with one field, said with its path and the remedy."""

from collections.abc import Callable, Sequence

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from swabwright.errors import Fault, did_you_mean
from swabwright.plant.forms import IN_WORDS
from swabwright.plant.model import NOT_BLANK
from swabwright.plant.schema import known_fields

Location = Sequence[int | str]
Sayer = Callable[[type[BaseModel], ErrorDetails], str]


def field_faults(model: type[BaseModel], errors: Sequence[ErrorDetails]) -> list[Fault]:
    """The faults behind the validation errors of a document, those left out that only follow from another."""
    return [field_fault(model, error) for error in errors if not _follows(error, errors)]


def _follows(error: ErrorDetails, errors: Sequence[ErrorDetails]) -> bool:
    """Whether a list is called too short only because an entry of it is faulty, as the library then drops it."""
    place = error["loc"]
    return error["type"] == "too_short" and any(
        len(other["loc"]) > len(place) and other["loc"][: len(place)] == place for other in errors
    )


def field_fault(model: type[BaseModel], error: ErrorDetails) -> Fault:
    """The fault behind one validation error of this document type."""
    say: Sayer = SAID.get(error["type"], _said_by_library)
    return Fault(field_path(error["loc"]), say(model, error))


def field_path(location: Location) -> str:
    """A location as it is written: `sites[14].room`."""
    path = ""
    for step in location:
        path += f"[{step}]" if isinstance(step, int) else f".{step}" if path else str(step)
    return path


def shown(value: object) -> str:
    """A value as it can stand in a sentence, cut short when it is long."""
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _unknown_field(model: type[BaseModel], error: ErrorDetails) -> str:
    *parent, name = error["loc"]
    return f"no such field{did_you_mean(str(name), known_fields(model, parent))}"


def _missing(model: type[BaseModel], error: ErrorDetails) -> str:
    return "is missing; write it"


def _choice(model: type[BaseModel], error: ErrorDetails) -> str:
    expected = error["ctx"]["expected"].replace("'", "").replace(" or ", ", ")
    return f"must be one of {expected}, not {shown(error['input'])}"


def _offset(model: type[BaseModel], error: ErrorDetails) -> str:
    return f"{shown(error['input'])} has no offset from UTC; write it as 2026-03-05T09:30:00+00:00"


def _finite(model: type[BaseModel], error: ErrorDetails) -> str:
    return f"must be a finite number, not {shown(error['input'])}; write the number or leave the field out"


def _pattern(model: type[BaseModel], error: ErrorDetails) -> str:
    if error["ctx"]["pattern"] == NOT_BLANK:
        return "must not be blank"
    pattern = error["ctx"]["pattern"]
    return f"{shown(error['input'])} has a wrong form; allowed is {IN_WORDS.get(pattern, pattern)}"


def _too_short(model: type[BaseModel], error: ErrorDetails) -> str:
    return f"must have at least {error['ctx']['min_length']}, not {error['ctx']['actual_length']}"


def _blank(model: type[BaseModel], error: ErrorDetails) -> str:
    least = error["ctx"]["min_length"]
    return "must not be blank" if least == 1 else f"must have at least {least} characters, not {shown(error['input'])}"


def _said_by_document(model: type[BaseModel], error: ErrorDetails) -> str:
    # A sentence of ours stands as it is: it may begin with a name. A whole object after it would tell nothing.
    words, given = str(error["ctx"]["error"]), error["input"]
    return words if isinstance(given, dict | list | tuple) else f"{words}, not {shown(given)}"


def _said_by_library(model: type[BaseModel], error: ErrorDetails) -> str:
    # The library starts its sentences with "Input"; after a path the sentence has its subject already.
    words = error["msg"].removeprefix("Input ")
    return f"{words[:1].lower()}{words[1:]}, not {shown(error['input'])}"


SAID: dict[str, Sayer] = {
    "extra_forbidden": _unknown_field,
    "missing": _missing,
    "literal_error": _choice,
    "timezone_aware": _offset,
    "finite_number": _finite,
    "too_short": _too_short,
    "string_pattern_mismatch": _pattern,
    "string_too_short": _blank,
    "value_error": _said_by_document,
}
