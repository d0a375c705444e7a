"""Samples and results as folds: what became of every number, and every result beside its amendments."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from swabwright.record.authority import Companion
from swabwright.record.entry import Entry
from swabwright.record.laboratory import AmendedResult, Isolate, Result
from swabwright.record.sampling import AddedByJudgement, Collected, NotTaken
from swabwright.record.standing import standing


@dataclass
class SampleStory:
    """What the record says of one sample number, in the order in which it was entered."""

    number: str
    collected: list[Collected] = field(default_factory=list)
    """More than one is a contradiction, told by custody."""
    not_taken: list[NotTaken] = field(default_factory=list)
    judgement: list[AddedByJudgement] = field(default_factory=list)
    companions: list[Companion] = field(default_factory=list)
    results: list[Result | AmendedResult] = field(default_factory=list)
    """The first result, then every amendment beside it."""
    isolates: list[Isolate] = field(default_factory=list)
    entries: list[int] = field(default_factory=list)


def samples(entries: Iterable[Entry]) -> dict[str, SampleStory]:
    """Every sample number that the record speaks of, with its story."""
    stories: dict[str, SampleStory] = {}
    for entry in standing(entries):
        body = entry.statement.body
        number = getattr(body, "sample", None)
        for each in (number,) if isinstance(number, str) else getattr(body, "samples", ()):
            story = stories.setdefault(each, SampleStory(each))
            story.entries.append(entry.number)
            _tell(story, body)
    return stories


def _tell(story: SampleStory, body: object) -> None:
    match body:
        case Collected():
            story.collected.append(body)
        case NotTaken():
            story.not_taken.append(body)
        case AddedByJudgement():
            story.judgement.append(body)
        case Companion():
            story.companions.append(body)
        case Result() | AmendedResult():
            story.results.append(body)
        case Isolate():
            story.isolates.append(body)
