"""Every number the engine rests on, with unit, source and whether anybody has confirmed it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from swabwright.errors import SwabwrightError, did_you_mean

Central = Literal["median", "mean", "exact"]


@dataclass(frozen=True)
class Figure:
    """One editable number: its dotted name, value, unit, source, and range where one is known."""

    name: str
    value: float
    unit: str
    source: str
    confirmed: bool
    central: Central = "exact"
    low: float | None = None
    high: float | None = None
    changed_by: str | None = None


@dataclass(frozen=True)
class Override:
    """A changed figure: who set it, and why (one entry of overrides.toml)."""

    name: str
    value: float
    who: str
    why: str


class NoSuchFigure(SwabwrightError, KeyError):
    """A figure that nobody has written down; a KeyError too, so that `in` and `get` work as on any mapping."""

    def __str__(self) -> str:
        return str(self.args[0])


class Figures(Mapping[str, Figure]):
    """All figures by dotted name (`mechanism.splash.fraction`); immutable."""

    def __init__(self, figures: Mapping[str, Figure]) -> None:
        self._figures = dict(figures)

    def __getitem__(self, name: str) -> Figure:
        try:
            return self._figures[name]
        except KeyError:
            raise NoSuchFigure(
                f"no figure '{name}' in the catalogue{did_you_mean(name, list(self._figures))}"
            ) from None

    def __contains__(self, name: object) -> bool:
        return name in self._figures

    def __iter__(self) -> Iterator[str]:
        return iter(self._figures)

    def __len__(self) -> int:
        return len(self._figures)

    def number(self, name: str) -> float:
        """The value of the figure called `name`."""
        return self[name].value

    def under(self, prefix: str) -> dict[str, Figure]:
        """The figures whose dotted name starts with `prefix.`, by the rest of the name."""
        start = f"{prefix}."
        return {name[len(start) :]: figure for name, figure in self._figures.items() if name.startswith(start)}

    def changed(self, overrides: tuple[Override, ...]) -> "Figures":
        """These figures with every override applied; an unknown name is refused."""
        changed = dict(self._figures)
        for override in overrides:
            changed[override.name] = replace(
                self[override.name],
                value=override.value,
                source=f"set by {override.who}: {override.why}",
                confirmed=True,
                changed_by=override.who,
            )
        return Figures(changed)
