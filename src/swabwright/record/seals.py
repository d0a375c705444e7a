"""Containers and seals: what was set, opened on the way and seen at the laboratory; facts only, no judgement."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from swabwright.case.words import counted
from swabwright.record.entry import Entry
from swabwright.record.standing import standing
from swabwright.record.transport import LaboratoryReceipt, SealOpened, SealSeen, SealSet, Waybill


@dataclass
class ContainerFacts:
    """What the record says of one container's seals, in order."""

    container: str
    facts: list[str] = field(default_factory=list)
    seal: str | None = None
    """The seal that should be on it now."""
    incidents: int = 0
    same_at_both_ends: bool | None = None
    """None until the laboratory has said which seal it found."""


def containers(entries: Iterable[Entry]) -> dict[str, ContainerFacts]:
    """Every sealed container with its facts."""
    found: dict[str, ContainerFacts] = {}
    for entry in standing(entries):
        body, at = entry.statement.body, entry.statement.at
        match body:
            case SealSet():
                _set(_of(found, body.container), body, at)
            case SealOpened():
                _opened(_of(found, body.container), body, at)
            case Waybill():
                _sent(_of(found, body.container), body, at)
            case LaboratoryReceipt():
                for seen in body.seals:
                    _seen(_of(found, seen.container), seen, at)
    return found


def _of(found: dict[str, ContainerFacts], container: str) -> ContainerFacts:
    return found.setdefault(container, ContainerFacts(container))


def _set(facts: ContainerFacts, body: SealSet, at: str) -> None:
    facts.seal = body.seal
    facts.facts.append(f"{at}: seal {body.seal} set")


def _opened(facts: ContainerFacts, body: SealOpened, at: str) -> None:
    # What was not entered is not known: nobody may read it as 'there was none'.
    witness = f"witness: {body.witness}" if body.witness else "no witness entered"
    pictures = counted(len(body.photographs), "photograph") if body.photographs else "no photograph entered"
    count = f"{counted(body.samples_counted, 'sample')} counted"
    facts.incidents += 1
    facts.facts.append(f"{at}: seal {body.seal} opened by {body.opened_by}: {body.why}; {witness}; {pictures}; {count}")
    if facts.seal is not None and facts.seal != body.seal:
        facts.facts.append(f"{at}: seal {facts.seal} had been set")
    facts.seal = None


def _sent(facts: ContainerFacts, body: Waybill, at: str) -> None:
    facts.facts.append(f"{at}: seal {body.seal} on waybill {body.waybill}; set last: {facts.seal or 'none'}")


def _seen(facts: ContainerFacts, seen: SealSeen, at: str) -> None:
    state = "intact" if seen.intact else "not intact"
    facts.facts.append(f"{at}: seal {seen.seal} found {state}; set last: {facts.seal or 'none'}")
    facts.same_at_both_ends = seen.intact and seen.seal == facts.seal
