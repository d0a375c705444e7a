"""Labels: every code is read back, and the label itself says a number and nothing else."""

import re
from functools import cache

import pytest
import zxingcpp
from builders.pages import codes, one_bit, pages, picture, text_of, words_of
from builders.papers import investigation, plan
from builders.smokehouse import smokehouse
from PIL import ImageFilter

from swabwright.reports.papers import labels_pdf

PLANT = smokehouse()
PLAN = plan(PLANT)
NUMBERS = [sample.sample_number for sample in PLAN.samples] + list(PLAN.spare_numbers)
QR, BARS = zxingcpp.BarcodeFormat.QRCode, zxingcpp.BarcodeFormat.Code128
CELL_MM, STUB_MM, SHEET_TOP_MM = (70.0, 34.6), 10.2, (297 - 8 * 34.6) / 2


@cache
def labels(paper="a4"):
    return labels_pdf(PLAN, PLANT, investigation(), paper=paper)


def with_site_name(name):
    site = PLANT.sites[0].model_copy(update={"name": name})
    plant = PLANT.model_copy(update={"sites": (site, *PLANT.sites[1:])})
    return labels_pdf(plan(plant), plant, investigation())


def mm(points):
    return points * 25.4 / 72


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("kind", [QR, BARS])
def test_every_code_is_read_back_at_200_dpi(paper, kind):
    found = [text for page in pages(labels(paper)) for text in codes(picture(page, 200), kind)]
    assert sorted(found) == sorted(NUMBERS)


@pytest.mark.slow
@pytest.mark.parametrize("kind", [QR, BARS])
def test_every_code_is_read_back_from_a_1_bit_copy_at_300_dpi(kind):
    found = [text for page in pages(labels()) for text in codes(one_bit(page, 300), kind)]
    assert sorted(found) == sorted(NUMBERS)


@pytest.mark.slow
def test_qr_codes_survive_a_blurred_copy_of_a_copy():
    blurred = [one_bit(page, 200).filter(ImageFilter.GaussianBlur(1.2)) for page in pages(labels())]
    assert sorted(text for image in blurred for text in codes(image, QR)) == sorted(NUMBERS)


def test_the_labels_stand_in_order_of_work_and_spares_last():
    written = re.findall(r"\d[A-Z]\d[A-Z]\d[A-Z]-[0-9A-Z]", " ".join(text_of(labels())))
    assert written == NUMBERS


def test_above_the_tear_line_stand_the_number_and_a_date_only():
    allowed = re.compile(r"^(\d[A-Z]\d[A-Z]\d[A-Z]-[0-9A-Z]|5 March 2026, at|by|)$")
    page = pages(labels())[0]
    text, height = page.get_textpage(), page.get_height()
    for row in range(8):
        top = SHEET_TOP_MM + row * CELL_MM[1]
        band = [height - (top + CELL_MM[1] - STUB_MM - 0.6) / 25.4 * 72, height - (top + 0.2) / 25.4 * 72]
        said = text.get_text_bounded(0, band[0], page.get_width(), band[1]).replace("\r\n", "\n")
        assert all(allowed.match(line.strip()) for line in re.split(r"\n|(?<=at) (?=by)", said)), said


def test_no_label_sheet_names_the_plant():
    assert "Juniper" not in words_of(labels())
    assert "Smokehouse" not in words_of(labels())


def test_the_stub_names_site_room_zone_and_device():
    assert "Trolley wheels, rack bay" in words_of(labels())
    assert "Z3, S023, Slicing and packing, sponge on a handle" in words_of(labels())


def test_a_blank_has_a_label_like_any_other():
    blank = next(sample for sample in PLAN.samples if sample.kind == "blank")
    assert blank.sample_number in NUMBERS
    assert "Blank: open it, touch nothing, close it" in words_of(labels())


def test_a_name_too_long_for_its_stub_is_said_to_be_on_the_walk_sheet():
    said = words_of(with_site_name("seam behind the third guard, " * 13))
    assert "Name too long for a stub: see the walk sheet, number 1" in said


def test_a_long_name_is_set_smaller_and_stands_whole_on_the_stub():
    name = "guard of the second belt under the third cover, north side, behind the cable tray"
    assert name in words_of(with_site_name(name))


def test_the_number_is_more_than_four_millimetres_tall():
    text = pages(labels())[0].get_textpage()
    box = text.get_charbox(text.get_text_range().index(NUMBERS[0]), loose=True)
    assert 4.3 < mm(box[3] - box[1]) <= 6.6
