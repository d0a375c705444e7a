"""PDF pages as pictures and as text, and codes read from them by a real reader."""

import pypdfium2
import zxingcpp

THRESHOLD = 140
"""Grey levels above this are paper in a 1-bit copy."""


def pages(document):
    return pypdfium2.PdfDocument(document)


def text_of(document):
    """The text of every page."""
    return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in pages(document)]


def words_of(document):
    """All the text of a document in one line, single spaces."""
    return " ".join(" ".join(text_of(document)).split())


def heights_of(document, words):
    """Where some words stand, in points from the foot of the first page; each further page lies far above."""
    found = []
    for number, page in enumerate(pages(document)):
        text = page.get_textpage()
        search = text.search(words)
        while place := search.get_next():
            found.append(10_000 * number + text.get_charbox(place[0])[1])
    return found


def picture(page, dpi):
    return page.render(scale=dpi / 72, grayscale=True).to_pil()


def one_bit(page, dpi):
    """The page as a copier without greys gives it back."""
    return picture(page, dpi).point(lambda level: 255 * (level > THRESHOLD)).convert("1").convert("L")


def codes(image, formats):
    """Every code of some formats in a picture, as text, in reading order by position."""
    found = zxingcpp.read_barcodes(image, formats=formats)
    return [code.text for code in found]


def first_drawing(sheet):
    """The first picture of an SVG sheet: the drawing, without plate, chart and key."""
    return sheet.decode().split('<g transform="translate(4.0 ')[1]
