"""The deadline clock: hours from collection to the start of analysis, what is left, and when it ends."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swabwright.plant.figures import Figures
from swabwright.record.entry import Entry
from swabwright.record.laboratory import AmendedResult, Result
from swabwright.record.moments import seconds_of
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing

SECONDS_AN_HOUR = 3600


@dataclass(frozen=True)
class Deadline:
    """One sample's hours between collection and analysis."""

    sample: str
    collected_at: str
    analysis_started_at: str | None
    as_of: int
    """Seconds since 1970 UTC; counts while no start of analysis is in the record."""
    target_hours: float
    limit_hours: float

    @property
    def hours(self) -> float:
        """From collection to the start of analysis, or until now."""
        started = self.analysis_started_at
        return ((self.as_of if started is None else seconds_of(started)) - self._collected) / SECONDS_AN_HOUR

    @property
    def target_left_hours(self) -> float:
        """Until the target ends; below 0 once it is past."""
        return self.target_hours - self.hours

    @property
    def limit_left_hours(self) -> float:
        """Until the limit ends; below 0 once it is past."""
        return self.limit_hours - self.hours

    @property
    def target_ends(self) -> int:
        """When the target ends, in seconds since 1970 UTC."""
        return round(self._collected + self.target_hours * SECONDS_AN_HOUR)

    @property
    def limit_ends(self) -> int:
        """When the limit ends, in seconds since 1970 UTC."""
        return round(self._collected + self.limit_hours * SECONDS_AN_HOUR)

    @property
    def _collected(self) -> int:
        return seconds_of(self.collected_at)


def deadlines(entries: Iterable[Entry], figures: Figures, as_of: int) -> dict[str, Deadline]:
    """The clock of every collected sample by its number, under the rulebook's target and limit."""
    every = standing(entries)
    started = _started(every)
    collected: dict[str, str] = {}
    for entry in every:
        body = entry.statement.body
        if isinstance(body, Collected):
            collected.setdefault(body.sample, body.taken_at or entry.statement.at)
    target, limit = (figures.number(f"rule.hours_to_analysis_{name}") for name in ("target", "limit"))
    return {sample: Deadline(sample, at, started.get(sample), as_of, target, limit) for sample, at in collected.items()}


def _started(every: Sequence[Entry]) -> dict[str, str]:
    """When the analysis of each sample started; what an amended report says of it stands in place of the first."""
    said = [
        (entry.statement.id, body, body.analysis_started_at)
        for entry in every
        if isinstance(body := entry.statement.body, Result | AmendedResult) and body.analysis_started_at
    ]
    amended = {body.amends for _, body, _ in said if isinstance(body, AmendedResult)}
    started: dict[str, str] = {}
    for identity, body, at in said:
        if identity not in amended:
            # Of several tests of one sample the first to start ends the wait.
            started[body.sample] = min(started.get(body.sample, at), at, key=seconds_of)
    return started
