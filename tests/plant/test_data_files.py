"""Data files: a figure is whole or refused, a step must stand on its scale, no name stands in two files."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.plant.device_table import read_devices, read_media
from swabwright.plant.figure_table import is_number, read_figures
from swabwright.plant.figures import Figure
from swabwright.plant.registry import data_files, load_catalogue, load_figures, merged, parsed
from swabwright.plant.scales import scaled_figures
from swabwright.plant.site_type_table import read_site_types

WHOLE = {"value": 0.04, "unit": "share", "source": "assumed", "confirmed": False, "low": 0.01, "high": 0.1}
SCALES = {
    "difficulty": {
        "by": "cleaning", "unit": "1 to 5", "source": "assumed", "confirmed": False,
        "steps": {"1": 1, "5": {"value": 5, "low": 4, "high": 5}},
    },
    "area_cm2": {"by": "area_cm2", "unit": "cm2", "source": "assumed", "confirmed": False},
}  # fmt: skip


def fault_of(**changes) -> str:
    with pytest.raises(DocumentRefused) as refused:
        read_figures({"a.b": {**WHOLE, **changes}}, "some.toml")
    return str(refused.value)


def test_a_whole_figure_is_read_as_it_stands() -> None:
    figure = read_figures({"a.b": WHOLE}, "some.toml")["a.b"]
    assert figure == Figure("a.b", 0.04, "share", "assumed", confirmed=False, low=0.01, high=0.1)


@pytest.mark.parametrize("field", ["value", "unit", "source", "confirmed"])
def test_a_figure_without_a_needed_field_is_refused(field) -> None:
    entry = {name: value for name, value in WHOLE.items() if name != field}
    with pytest.raises(DocumentRefused, match=f"""some.toml: figures."a.b": lacks '{field}'; write it"""):
        read_figures({"a.b": entry}, "some.toml")


@pytest.mark.parametrize(("changes", "words"), [
    ({"value": "0.04"}, ".value: must be a number, not '0.04'"),
    ({"value": True}, ".value: must be a number, not True"),
    ({"source": " "}, ".source: must say where the figure comes from, or 'assumed'"),
    ({"unit": ""}, ".unit: must name the unit, or 'share' or 'weight'"),
    ({"confirmed": "no"}, ".confirmed: must be true or false, not 'no'"),
    ({"central": "middle"}, ".central: must be one of median, mean, exact"),
    ({"value": 0.2}, ": value 0.2 lies outside its own range 0.01 to 0.1"),
    ({"sourse": "x"}, ".sourse: a figure has no 'sourse'; did you mean 'source'?"),
])  # fmt: skip
def test_a_faulty_figure_is_refused_with_its_path(changes, words) -> None:
    assert fault_of(**changes) == f'some.toml: figures."a.b"{words}'


def test_a_bare_number_is_no_figure() -> None:
    with pytest.raises(DocumentRefused, match="must be a table with value, unit, source and confirmed"):
        read_figures({"a.b": 3}, "some.toml")


def test_all_faulty_figures_are_told_at_once() -> None:
    with pytest.raises(DocumentRefused) as refused:
        read_figures({"a": {}, "b": {**WHOLE, "unit": ""}}, "some.toml")
    assert len(refused.value.faults) == 5


@given(st.one_of(st.text(), st.none(), st.booleans(), st.floats().filter(lambda x: x != x or abs(x) == float("inf"))))
def test_what_is_not_finite_or_no_number_is_none(value) -> None:
    assert not is_number(value)


def test_a_step_gives_value_and_range_and_the_scale_gives_unit_and_source() -> None:
    figure = scaled_figures("x", {"cleaning": 5, "area_cm2": 30}, SCALES)["x.difficulty"]
    assert (figure.value, figure.low, figure.high, figure.source) == (5, 4, 5, "assumed")


def test_a_scale_without_steps_takes_the_number_itself() -> None:
    assert scaled_figures("x", {"cleaning": 1, "area_cm2": 30}, SCALES)["x.area_cm2"].value == 30


def test_a_table_of_ones_own_overrules_the_scale() -> None:
    own = {"value": 33, "source": "measured", "confirmed": True}
    figure = scaled_figures("x", {"cleaning": 1, "area_cm2": own}, SCALES)["x.area_cm2"]
    assert (figure.value, figure.source, figure.confirmed, figure.unit) == (33, "measured", True, "cm2")


@pytest.mark.parametrize(("entry", "words"), [
    ({"cleaning": 6, "area_cm2": 3}, "x.difficulty: no step '6' on its scale; known: 1, 5"),
    ({"area_cm2": 3}, "x.difficulty: the entry lacks 'cleaning'"),
    ({"cleaning": 1, "area_cm2": "large"}, "x.area_cm2: no step 'large'"),
])  # fmt: skip
def test_a_step_off_its_scale_is_refused(entry, words) -> None:
    with pytest.raises(SwabwrightError, match=words):
        scaled_figures("x", entry, SCALES)


def test_a_figure_in_two_files_is_refused() -> None:
    one = read_figures({"a.b": WHOLE}, "some.toml")
    with pytest.raises(SwabwrightError, match=r"figure 'a\.b' stands twice in the data files; keep one"):
        merged([one, one])


def changed_types(**changes):
    data = data_files()["site_types.toml"]
    entry = {key: value for key, value in (data["site_types"]["belt_hinge"] | changes).items() if value is not None}
    return {**data, "site_types": {"belt_hinge": entry}}


@pytest.mark.parametrize(("changes", "words"), [
    ({"why": None, "source": None}, "site type 'belt_hinge' lacks why, source"),
    ({"stop": "losen"}, "site type 'belt_hinge': no stop 'losen'; did you mean 'loosen'"),
    ({"reach": "shut"}, "site_type.belt_hinge.reach_as_is: no step 'shut'"),
])  # fmt: skip
def test_a_site_type_that_is_not_whole_is_refused(changes, words) -> None:
    with pytest.raises(SwabwrightError, match=words):
        read_site_types(changed_types(**changes))


@pytest.mark.parametrize(("cells", "words"), [
    ({"quat": {"grade": "yes", "source": "a", "confirmed": False}}, "medium 'bpw': no chemistry 'quat'"),
    ({"none": {"grade": "yess", "source": "a", "confirmed": False}}, "no grade 'yess' of a medium; did you mean 'yes'"),
])  # fmt: skip
def test_a_cell_of_the_media_table_that_means_nothing_is_refused(cells, words) -> None:
    with pytest.raises(SwabwrightError, match=words):
        read_media({**data_files()["media.toml"], "keeps": {"bpw": cells}})


def test_a_devices_own_steps_stand_between_the_common_ones() -> None:
    data = data_files()["devices.toml"]
    steps = read_devices(data)[0]["SW"].steps
    assert steps[0].startswith("Check device and medium")
    assert steps[4:7] == tuple(data["devices"]["SW"]["steps"])


def test_steps_are_short_lines_that_can_be_ticked_off() -> None:
    steps = [step for device in load_catalogue().devices.values() for step in device.steps]
    assert all(len(step) <= 100 and not step.endswith(".") for step in steps)


def test_every_device_has_its_figures_and_a_shape_of_the_drawing() -> None:
    devices = load_catalogue().devices
    assert {"SP", "SH", "SW", "CL", "BO", "SC", "WA", "PR", "PT"} == set(devices)
    assert {device.shape for device in devices.values()} == {
        "square", "disc_on_stick", "leaf", "crossed_square", "boot", "lozenge"
    }  # fmt: skip
    for code in devices:
        names = set(load_figures().under(f"device.{code}"))
        assert names == {"minutes", "max_area_cm2", "wetting_ml", "relative_recovery"}


def test_the_catalogue_is_read_once() -> None:
    assert load_catalogue() is load_catalogue()
    assert load_figures() is load_catalogue().figures


def test_a_data_file_out_of_form_is_told_with_its_name_and_line() -> None:
    with pytest.raises(SwabwrightError, match=r"some\.toml: .*\(at line 2, column \d+\); mend the data file there"):
        parsed("some.toml", "[figures]\nvalue =\n")
