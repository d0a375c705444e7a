"""Claims: how often the engine named a place as where it lives, and how often it was right."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from swabwright.inference.calibration import Estimate, Forecast, mean_of


@dataclass(frozen=True)
class Claims:
    """How investigations ended under the rule 'name a place once its chance of a niche exceeds a bar'."""

    localised: Estimate
    """A place was named, and rightly."""
    wrong: Estimate
    """Of those named, no niche."""
    wrong_room: Estimate
    """Of those named, in a room without any niche."""
    first_is_niche: Estimate
    """Whether the likeliest place is a niche, named or not."""


def claim(forecast: Forecast, bar: float) -> int | None:
    """The likeliest place if its chance of a niche exceeds the bar."""
    leading = int(forecast.marginal.argmax())
    return leading if forecast.marginal[leading] > bar else None


def claims(forecasts: Sequence[Forecast], rooms: Sequence[Sequence[Hashable]], bar: float) -> Claims:
    """How claims above a bar held; rooms: of each forecast, what room each of its places is in."""
    placed = [(one, room, claim(one, bar)) for one, room in zip(forecasts, rooms, strict=True)]
    named = [(one, room, at) for one, room, at in placed if at is not None]
    elsewhere = [float(room[at] not in {room[niche] for niche in one.niches}) for one, room, at in named]
    own = [one.cluster for one, _, _ in named]
    everyone = [one.cluster for one in forecasts]
    return Claims(
        mean_of([float(at in one.niches) for one, _, at in placed], everyone),
        mean_of([float(at not in one.niches) for one, _, at in named], own),
        mean_of(elsewhere, own),
        mean_of([float(int(one.marginal.argmax()) in one.niches) for one in forecasts], everyone),
    )
