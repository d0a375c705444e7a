"""The unconfirmed figures and values that a plan rests on, the most influential first."""

from collections.abc import Iterator

from swabwright.belief.believe import Belief
from swabwright.belief.influence import influence
from swabwright.case.plan import RestsOn
from swabwright.detection.items import Item
from swabwright.plant.figures import Figure
from swabwright.work.opened import OpenVisit


def rests_on(opened: OpenVisit, belief: Belief, items: tuple[Item, ...]) -> tuple[RestsOn, ...]:
    """Every unconfirmed figure with the points it moves the chance of finding by, then what the documents assume."""
    figures = opened.figures
    moved = tuple(of_figure(figures[name], points) for name, points in influence(belief, items))
    return (*moved, *_of_documents(opened))


def of_figure(figure: Figure, points: float) -> RestsOn:
    """A figure with its range, its source and the points in 100 that it moves."""
    reach = "" if figure.low is None or figure.high is None else f" ({figure.low:g} to {figure.high:g})"
    return RestsOn(
        name=figure.name,
        words=_spelled(figure.name),
        value=f"{figure.value:g}{reach} {figure.unit}",
        source=figure.source[:400],
        influence=round(points, 2),
    )


def _spelled(name: str) -> str:
    """`site_type.hollow_roller.reach_as_is` as 'hollow roller: reach as is'."""
    group, *rest = name.split(".")
    parts = (
        rest if group in ("site_type", "device", "surface", "mechanism", "medium") and len(rest) > 1 else [group, *rest]
    )
    return ": ".join(part.replace("_", " ") for part in parts)


def _of_documents(opened: OpenVisit) -> Iterator[RestsOn]:
    """What import or lead left unconfirmed in the plant and the investigation; its influence is not measured."""
    for document, unconfirmed in (
        ("plant.json", opened.case.plant.unconfirmed),
        ("investigation.json", opened.case.investigation.unconfirmed),
    ):
        for path, reason in sorted(unconfirmed.items()):
            yield RestsOn(
                name=f"{document}: {path}", words=path, value="as it stands there", source=reason, influence=None
            )
