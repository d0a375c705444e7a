"""The words the import goes by, and the figures behind its defaults."""

import pytest

from swabwright.plant.imports.vocabulary import load_vocabulary, look_up
from swabwright.plant.registry import load_catalogue, load_figures

WORDS = load_vocabulary(load_figures())


def test_every_figure_of_the_import_names_its_source():
    figures = WORDS.figures.under("import")
    assert len(figures) > 15
    assert [name for name, figure in figures.items() if not figure.source] == []


def test_every_word_for_a_disinfectant_leads_to_a_chemistry_of_the_catalogue():
    assert set(WORDS.data["chemistry"]) <= set(load_catalogue().chemistries)


def test_every_word_for_a_material_leads_to_a_surface_of_the_catalogue():
    assert set(WORDS.data["surfaces"]) <= set(load_catalogue().surfaces)


def test_the_last_entry_of_room_words_fits_every_name():
    assert WORDS.data["rooms"]["words"][-1]["words"] == []
    assert WORDS.room_words("Zzz").hygiene_class == 3


@pytest.mark.parametrize("role", WORDS.roles())
def test_no_header_is_a_word_for_two_text_fields_of_one_sheet(role):
    words = [word for field in WORDS.sheet(role).fields if field.kind is None for word in field.called]
    assert sorted({word for word in words if words.count(word) > 1}) == []


@pytest.mark.parametrize("role", WORDS.roles())
def test_every_sheet_has_a_field_by_which_its_rows_are_known(role):
    assert WORDS.sheet(role).key_ids()


def test_no_name_is_a_word_for_two_kinds_of_layer():
    names = [name for names in WORDS.layers().values() for name in names]
    assert sorted({name for name in names if names.count(name) > 1}) == []


@pytest.mark.parametrize(
    ("text", "meaning"), [("Yes", "yes"), ("N", "no"), ("x", "yes"), ("open", "yes"), ("perhaps", None), ("", None)]
)
def test_yes_and_no_are_read_as_people_write_them(text, meaning):
    assert WORDS.means(text, "yes", "no") == meaning


def test_of_two_words_that_fit_the_fuller_one_wins():
    assert WORDS.chemistry("floor quat") == "quat_floor"
    assert WORDS.chemistry("quat") == "quat_normal"


def test_short_words_must_be_the_same_to_the_letter():
    assert look_up("ab", {"first": ["abc"]}, 50) is None
    assert look_up("ab", {"first": ["ab"]}, 50) == "first"


@pytest.mark.parametrize(
    ("words", "surface"), [("stainless steel", "steel"), ("SS", "steel"), ("HDPE", "plastic"), ("screed", "concrete")]
)
def test_materials_are_known_by_their_usual_names(words, surface):
    assert WORDS.surface(words) == surface
