"""The order of work by room."""

from collections.abc import Sequence

from swabwright.case.plan import PlannedSample


def with_rooms(samples: Sequence[PlannedSample]) -> list[tuple[PlannedSample, str]]:
    """Each sample in order of work with its room; a blank is opened in the room of the sample before it."""
    # a visit may begin with a blank, before any room was named
    here = next((sample.room for sample in samples if sample.room), "") or "the base"
    pairs = []
    for sample in sorted(samples, key=lambda sample: sample.order):
        here = sample.room or here
        pairs.append((sample, here))
    return pairs
