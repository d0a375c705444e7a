"""Units as they are written in cells and headers, each with its factor to the unit the documents use."""

import re
from dataclasses import dataclass
from typing import Literal

Kind = Literal["area_cm2", "length_m", "hours", "minutes", "kg_per_hour", "temperature_c", "ppm", "kg", "plain"]

INCH_M = 0.0254
FOOT_M = 0.3048
POUND_KG = 0.45359237
"""Exact by the international yard and pound agreement (1959)."""

_LENGTH = {
    "mm": 0.001, "cm": 0.01, "m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0,
    "in": INCH_M, "inch": INCH_M, "inches": INCH_M, '"': INCH_M,
    "ft": FOOT_M, "foot": FOOT_M, "feet": FOOT_M, "'": FOOT_M,
}  # fmt: skip
_TIME = {
    "s": 1 / 3600, "sec": 1 / 3600, "min": 1 / 60, "mins": 1 / 60, "minute": 1 / 60, "minutes": 1 / 60,
    "h": 1.0, "hr": 1.0, "hrs": 1.0, "hour": 1.0, "hours": 1.0, "d": 24.0, "day": 24.0, "days": 24.0,
}  # fmt: skip
_AREA = {f"{unit}2": (metres * 100) ** 2 for unit, metres in _LENGTH.items() if unit.isalpha()}
_MASS = {"kg": 1.0, "g": 0.001, "t": 1000.0, "lb": POUND_KG, "lbs": POUND_KG}
_RATE = {f"{mass}/{hour}": kg for mass, kg in _MASS.items() for hour in ("h", "hr", "hour")}

FACTORS: dict[Kind, dict[str, float]] = {
    "area_cm2": _AREA,
    "length_m": _LENGTH,
    "hours": _TIME,
    "minutes": {unit: hours * 60 for unit, hours in _TIME.items()},
    "kg_per_hour": _RATE,
    "temperature_c": {"c": 1.0, "celsius": 1.0, "degc": 1.0, "f": 5 / 9, "degf": 5 / 9, "fahrenheit": 5 / 9},
    "ppm": {"ppm": 1.0, "mg/l": 1.0, "%": 10_000.0},
    "kg": _MASS,
    "plain": {},
}
OFFSETS = dict.fromkeys(("f", "degf", "fahrenheit"), -160 / 9)
"""Added after the factor: degrees Fahrenheit to Celsius."""

WRITTEN_AS = tuple(map(re.compile, (r"[\(\[]\s*([^\)\]]+?)\s*[\)\]]", r"[,/]\s*([^\s,]+)$", r"\s([^\s()\[\]]+)$")))
"""How a header carries its unit: in brackets anywhere, after a comma or stroke, or as the last word."""


@dataclass(frozen=True)
class HeaderUnit:
    """A header's words and the unit written with them, if any."""

    words: str
    unit: str | None


def tidy_unit(text: str) -> str:
    """One spelling for a unit: `CM²`, `sq cm` and `cm^2` are `cm2`; `kg per hour` is `kg/h`."""
    unit = text.strip().lower().rstrip(".").replace("²", "2").replace("^2", "2").replace("°", "")
    unit = re.sub(r"^(?:sq\.?|square)\s*([a-z]+)$", r"\g<1>2", unit)
    unit = re.sub(r"\s*(?:/|\bper\b)\s*", "/", unit).replace("mg/litre", "mg/l")
    return unit.replace(" ", "")


def to_base(value: float, unit: str, kind: Kind) -> float:
    """The value in the documents' unit of its kind. Raises ValueError for a unit of another kind."""
    factors = FACTORS[kind]
    if unit not in factors:
        raise ValueError(f"'{unit}' is no unit of {kind.replace('_', ' ')}; known: {', '.join(list(factors)[:8])}")
    return value * factors[unit] + OFFSETS.get(unit, 0.0) * (kind == "temperature_c")


def split_header(text: str, kinds: tuple[Kind, ...]) -> HeaderUnit:
    """A header apart from its unit: 'Area (cm²)' is 'Area' and `cm2`; 'Height m' is 'Height' and `m`."""
    known = {unit for kind in kinds for unit in FACTORS[kind]}
    for written in WRITTEN_AS:
        match = written.search(text)
        rest = f"{text[: match.start()]} {text[match.end() :]}".strip() if match else ""
        if match and rest and tidy_unit(match.group(1)) in known:
            return HeaderUnit(" ".join(rest.split()), tidy_unit(match.group(1)))
    return HeaderUnit(text, None)
