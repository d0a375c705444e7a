"""Samples as they were taken: what a drawing of results needs to know of each."""

from dataclasses import dataclass

from swabwright.reports.marks import Fill


@dataclass(frozen=True)
class Sampled:
    """One surface sample that was taken: its number, its order of work, where, with what, and what came back."""

    number: str
    order: str
    """As it stands beside the mark: '16', or '26a' for one added after 26; orders go on from visit to visit."""
    visit: str
    site: str
    zone: int
    device: str
    fill: Fill
