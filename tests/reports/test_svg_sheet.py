"""SVG sheets: marks defined once, the letters inside, the key on the same sheet, and whole as XML."""

import re

from builders.pages import pages
from builders.rounds import case, clearance, sampled

from swabwright.reports.clearance_papers import clearance_papers
from swabwright.reports.key_strip import key_strip
from swabwright.reports.marks import Mark, mark_svg
from swabwright.reports.picture import picture, text_svg
from swabwright.reports.svg_sheet import svg_sheet

PICTURE = picture([text_svg("drain", (1, 1), 3)], (20.0, 10.0))
MARK = picture([mark_svg(Mark("SP", 1), (5, 5))], (10.0, 10.0))


def test_the_sheet_is_as_high_as_its_pictures_and_the_room_between():
    assert 'viewBox="0 0 28.00 33.00"' in svg_sheet([PICTURE, PICTURE], "two")


def test_marks_are_defined_once_however_many_pictures_use_them():
    assert svg_sheet([MARK, MARK, PICTURE], "marks").count("<defs>") == 1


def test_a_sheet_without_marks_defines_none():
    assert "<defs>" not in svg_sheet([PICTURE], "words")


def test_the_title_is_text_for_who_cannot_see_the_sheet():
    assert "<title>a &amp; b &lt;c></title>" in svg_sheet([PICTURE], "a & b <c>")


def test_the_letters_that_are_used_come_with_the_sheet():
    assert re.search(r"font-weight:400;src:url\(data:font/ttf;base64,[\w+/=]{400,}", svg_sheet([PICTURE], "letters"))


def test_a_sheet_closes_every_group_that_it_opens():
    sheet = svg_sheet([MARK, PICTURE], "whole")
    assert len(re.findall(r"<g[ >]", sheet)) == sheet.count("</g>")


def test_clip_paths_of_two_pictures_keep_their_own_names():
    clipped = picture(['<clipPath id="window"/><g clip-path="url(#window)"/>'], (5.0, 5.0))
    sheet = svg_sheet([clipped, clipped], "two windows")
    assert sheet.count('id="window-0"') == sheet.count('id="window-1"') == 1
    assert sheet.count("url(#window-1)") == 1


def test_a_long_row_of_the_key_breaks():
    row = [{"picture": "a", "words": "sponge on a handle"}] * 4
    narrow, wide = (key_strip([row], {"a": PICTURE}, width) for width in (60.0, 400.0))
    heights = [float(re.search(r'height="([\d.]+)mm"', svg).group(1)) for svg in (narrow, wide)]
    assert heights[0] > 3 * heights[1]


def test_the_key_of_the_rounds_stands_on_their_sheet():
    svg = clearance_papers(clearance(), case(), sampled())["clearance.svg"].decode()
    wanted = ("done, and we saw it", "promised", "not sampled in that round", "Z1 touches product", "hygiene barrier")
    assert [words for words in wanted if f">{words}</text>" not in svg] == []


def test_the_key_of_the_rounds_stands_on_their_first_page():
    page = pages(clearance_papers(clearance(), case(), sampled())["clearance.pdf"])[0]
    text = " ".join(page.get_textpage().get_text_range().replace("\xa0", " ").split())
    assert "done, and we saw it" in text
