"""Laws of strict reading: whatever is changed, the plant is read whole or refused in sentences, never half."""

import json
from typing import Any

from builders.plant_text import tiny_document
from builders.plants import twenty_site_plant
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import DocumentRefused
from swabwright.plant.document import Plant
from swabwright.plant.reading import plant_faults, read_plant
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
ODD = [None, "", " ", "x", "x" * 500, -1, 0, 1, 3.5, 1e300, True, [], {}, [[]], [1, 2], "2026-03-05T10:00:00Z", "wash"]


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The path of everything inside a document."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    found = [path] if path else []
    return found + [place for key, child in inner for place in places(child, (*path, key))]


PLACES = places(tiny_document())


def changed(place: tuple[Any, ...], value: Any, *, gone: bool = False) -> str:
    """The tiny plant with what stands at `place` replaced, or taken out."""
    document: Any = tiny_document()
    *parents, last = place
    spot = document
    for step in parents:
        spot = spot[step]
    if gone:
        del spot[last]
    else:
        spot[last] = value
    return json.dumps(document)


def read_or_refused(text: str) -> Plant | DocumentRefused:
    try:
        return read_plant(text, CATALOGUE)
    except DocumentRefused as refused:
        return refused


@settings(max_examples=250)
@given(st.sampled_from(PLACES), st.sampled_from(ODD))
def test_any_odd_value_anywhere_is_read_or_refused_in_sentences(place, value) -> None:
    answer = read_or_refused(changed(place, value))
    assert isinstance(answer, Plant) or all(fault.problem for fault in answer.faults)


@settings(max_examples=150)
@given(st.sampled_from(PLACES))
def test_anything_taken_out_anywhere_is_read_or_refused_in_sentences(place) -> None:
    answer = read_or_refused(changed(place, None, gone=True))
    assert isinstance(answer, Plant) or all(fault.problem for fault in answer.faults)


@settings(max_examples=150)
@given(st.sampled_from(PLACES), st.sampled_from([None, {}, "x" * 500, 1e300]))
def test_a_refusal_of_one_field_names_a_place_in_its_part_of_the_document(place, value) -> None:
    answer = read_or_refused(changed(place, value))
    named = [] if isinstance(answer, Plant) else [fault.path for fault in answer.faults]
    assert isinstance(answer, Plant) or any(named)


@settings(max_examples=100)
@given(st.text(max_size=60))
def test_any_text_at_all_is_refused_rather_than_crashing(text) -> None:
    assert isinstance(read_or_refused(text), DocumentRefused)


@settings(max_examples=60)
@given(st.sampled_from([place for place in PLACES if isinstance(place[-1], str)]))
def test_an_added_field_is_always_refused(place) -> None:
    answer = read_or_refused(changed((*place[:-1], "surplus"), 1))
    # Only `unconfirmed` is a free mapping; there the name is kept and its value must be words.
    assert isinstance(answer, DocumentRefused)


@settings(max_examples=20)
@given(st.randoms(use_true_random=False))
def test_the_order_of_sites_and_rooms_changes_no_judgement(random) -> None:
    plant = twenty_site_plant()
    mixed = {name: tuple(random.sample(getattr(plant, name), len(getattr(plant, name)))) for name in ("sites", "rooms")}
    assert plant_faults(plant.model_copy(update=mixed), CATALOGUE) == ()


@settings(max_examples=30)
@given(st.floats(-500, 500), st.floats(-500, 500))
def test_a_plant_drawn_elsewhere_on_the_sheet_is_as_sound(x, y) -> None:
    document: Any = tiny_document()
    for kind in ("rooms", "equipment", "overhead"):
        for entry in document[kind]:
            entry["outline"] = [[px + x, py + y] for px, py in entry["outline"]]
    for kind in ("lines", "routes", "drains"):
        for entry in document[kind]:
            entry["path"] = [[px + x, py + y] for px, py in entry["path"]]
    for kind, field in (("doors", "at"), ("sites", "position")):
        for entry in document[kind]:
            entry[field] = [entry[field][0] + x, entry[field][1] + y]
    document["base"] = [1 + x, 1 + y]
    assert isinstance(read_or_refused(json.dumps(document)), Plant)
