"""Carriages: which samples lay in which container, from packing to the laboratory, as a fold over the record."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from swabwright.record.custody import custody
from swabwright.record.entry import Entry
from swabwright.record.moments import seconds_of
from swabwright.record.readings import Stretch
from swabwright.record.standing import standing
from swabwright.record.transport import ContainerPacked, LaboratoryReceipt


@dataclass
class Carriage:
    """One journey of a container: from the first sample packed until the laboratory has the last one."""

    container: str
    packed_at: str
    entry: int
    """The number of the entry that began it."""
    samples: dict[str, str | None] = field(default_factory=dict)
    """Each with the time of its receipt; None while it lies in the container."""
    loggers: list[str] = field(default_factory=list)
    """Packed along, as entered."""
    receipts: list[LaboratoryReceipt] = field(default_factory=list)

    @property
    def received_at(self) -> str | None:
        """When the laboratory had the last of its samples; None before."""
        times = list(self.samples.values())
        return None if None in times else max((at for at in times if at), key=seconds_of)

    def window(self, as_of: int) -> Stretch:
        """From packing to receipt, or until now while it is on the way; seconds since 1970 UTC."""
        begins = seconds_of(self.packed_at)
        ends = as_of if self.received_at is None else seconds_of(self.received_at)
        return Stretch(begins, max(begins, ends))


def carriages(entries: Iterable[Entry]) -> tuple[Carriage, ...]:
    """Every journey of every container, in order of packing; an entry that contradicts others moves nothing."""
    every = standing(entries)
    wrong = {one.entry for one in custody(every).contradictions}
    found: list[Carriage] = []
    for entry in every:
        if entry.number in wrong:
            continue
        body, at = entry.statement.body, entry.statement.at
        # Isolates have hands, but no hours to the start of analysis and no journey of their own.
        if isinstance(body, ContainerPacked) and body.samples:
            _packed(found, body, entry)
        elif isinstance(body, LaboratoryReceipt):
            _received(found, body, at)
    return tuple(found)


def _packed(found: list[Carriage], body: ContainerPacked, entry: Entry) -> None:
    open_one = next((one for one in found if one.container == body.container and one.received_at is None), None)
    if open_one is None:
        open_one = Carriage(body.container, entry.statement.at, entry.number)
        found.append(open_one)
    open_one.samples.update(dict.fromkeys(body.samples))
    if body.logger and body.logger not in open_one.loggers:
        open_one.loggers.append(body.logger)


def _received(found: list[Carriage], body: LaboratoryReceipt, at: str) -> None:
    for carriage in found:
        came = [sample for sample in body.samples if sample in carriage.samples and carriage.samples[sample] is None]
        if came:
            carriage.samples.update(dict.fromkeys(came, at))
            carriage.receipts.append(body)
