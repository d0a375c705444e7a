"""Numbers as people type them: `1,5`, `1 250`, `1.250,5`, `12 x 12`."""

import re
from dataclasses import dataclass

NUMBER = r"[-+]?\d[\d.,'\u00a0\u202f ]*\d|[-+]?\d"
_GROUPED = re.compile(r"^[-+]?[1-9]\d{0,2}([.,' ]\d{3})+$")


@dataclass(frozen=True)
class Reading:
    """A number read from text, and what is doubtful about reading it so."""

    value: float
    doubt: str | None = None


def read_number(text: str) -> Reading:
    """The number in `text`; '1,250' is read as 1250 with a doubt. Raises ValueError when it is none."""
    plain = re.sub("[\u00a0\u202f]", " ", text.strip())
    doubt = None
    if _GROUPED.match(plain):
        # A second group, or a blank or stroke between groups, leaves no other reading.
        if re.fullmatch(r"[-+]?\d{1,3}[.,]\d{3}", plain):
            doubt = f"'{text}' is read as {_digits(plain)}; a decimal mark was possible too"
        plain = _digits(plain)
    elif "," in plain and "." in plain:
        plain = _without_thousands(plain)
    return Reading(float(plain.replace(" ", "").replace("'", "").replace(",", ".")), doubt)


def _digits(text: str) -> str:
    return re.sub(r"[.,' ]", "", text)


def _without_thousands(text: str) -> str:
    """Text that has both marks, with only the decimal one (the last) left, as a point."""
    decimal = max(text.rfind(","), text.rfind("."))
    return _digits(text[:decimal]) + "." + text[decimal + 1 :]
