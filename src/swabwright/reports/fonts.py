"""The bundled typefaces: how wide a text is, and which characters they have."""

from functools import cache
from importlib.resources import as_file, files
from pathlib import Path

from fontTools.ttLib import TTFont

SANS = "Atkinson Hyperlegible Next"
SERIF = "Source Serif 4"
FALLBACK = "Noto Sans"
FAMILIES = (SANS, SERIF, FALLBACK)
_FILES = {400: "AtkinsonHyperlegibleNext_400Regular.ttf", 600: "AtkinsonHyperlegibleNext_600SemiBold.ttf"}
_CONTENT = "AtkinsonHyperlegibleNext_400Regular.ttf", "SourceSerif4_400Regular.ttf", "NotoSans_400Regular.ttf"


def font_folder() -> Path:
    """The folder that holds the typefaces' files."""
    with as_file(files("swabwright.reports").joinpath("fonts")) as folder:
        return Path(folder)


def text_width(text: str, size: float, weight: int = 400) -> float:
    """How wide a text of the sans is, in the unit of `size`."""
    advances, units = _advances(weight)
    # a letter of the fallback typeface is guessed a little wide: labels then keep their distance
    return sum(advances.get(ord(character), units * 0.6) for character in text) * size / units


@cache
def known_characters() -> frozenset[int]:
    """Every code point that at least one of the bundled typefaces can show in running text."""
    known = [set(TTFont(font_folder() / name).getBestCmap()) for name in _CONTENT]
    return frozenset(set.union(*known))


@cache
def _advances(weight: int) -> tuple[dict[int, int], int]:
    font = TTFont(font_folder() / _FILES[weight])
    widths = font["hmtx"].metrics
    return {code: widths[glyph][0] for code, glyph in font.getBestCmap().items()}, font["head"].unitsPerEm
