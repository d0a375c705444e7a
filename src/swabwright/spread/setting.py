"""Everything a response bank follows from, and nothing else: what its cache key is made of."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from hashlib import blake2b

from swabwright.errors import SwabwrightError
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.spread.clock import Clock, clock_of
from swabwright.spread.ecology import Ecology, ecology_of
from swabwright.spread.mechanisms import Mechanism, mechanisms_of
from swabwright.spread.network import ContactNetwork
from swabwright.spread.occasions import Timeline
from swabwright.spread.spreads import Spreads, spreads_of
from swabwright.spread.treatments import Treatment

MODEL_VERSION = 1
"""Raised whenever the same setting would give another bank."""
CUTOFF = 2.0 ** (1 / 2048 - 28)
"""Responses below this many CFU per unit of capacity (3.7e-9) are not kept."""


@dataclass(frozen=True)
class BankSetting:
    """A network, a clock, an organism's ecology, the spreads of the draws, the seed; and what is done to niches."""

    network: ContactNetwork
    clock: Clock
    ecology: Ecology
    mechanisms: tuple[Mechanism, ...]
    spreads: Spreads
    seed: int
    cutoff: float = CUTOFF
    treatment: Treatment | None = None

    def digest(self) -> str:
        """A hash of everything the bank follows from; labels, names and reasons are not part of it."""
        hasher = blake2b(digest_size=20)
        for part in self._parts():
            hasher.update(repr(part).encode())
            hasher.update(b"\0")
        return hasher.hexdigest()

    def _parts(self) -> Iterator[object]:
        yield MODEL_VERSION, self.seed, self.cutoff, self.mechanisms, self.spreads
        yield self.network.source_names
        yield [(place.family, place.room) for place in self.network.places]
        for stream in self.network.streams:
            yield stream.source, stream.index, stream.mechanism, stream.clock, stream.rate_per_8h, stream.fraction
            yield stream.on, stream.shares, [target.row for target in stream.targets]
        yield sorted(self.network.neighbours.items())
        yield [(name, _listed(value)) for name, value in vars(self.ecology).items()]
        told_apart = ("occasions", "cleanings", "offset")
        yield [(name, _listed(value)) for name, value in vars(self.clock).items() if name not in told_apart]
        yield [[(end.kind, sorted(end.rooms), sorted(end.lines)) for end in ends] for ends in self.clock.cleanings]
        yield [(occasion.at.isoformat(), occasion.phase) for occasion in self.clock.occasions]
        if self.treatment is not None:
            yield self.treatment.kind, self.treatment.log10_range, self.treated_slot

    @property
    def treated_slot(self) -> int:
        """The first slot after the treatment, -1 where there is none in this clock."""
        return -1 if self.treatment is None else self.clock.first_slot_after(self.treatment.at)

    def treated(self, treatment: Treatment) -> "BankSetting":
        """The same histories with every niche treated; refused where no slot of theirs begins after that moment."""
        setting = replace(self, treatment=treatment)
        if setting.treated_slot < 0:
            last = max(occasion.at for occasion in self.clock.occasions)
            raise SwabwrightError(
                f"an action at {treatment.at.isoformat()} lies outside the histories, which end with the last visit at"
                f" {last.isoformat()}; correct the moment, or add a visit after it"
            )
        return setting


def _listed(value: object) -> object:
    return value.tolist() if hasattr(value, "tolist") else value


@dataclass(frozen=True)
class Subject:
    """Whose bank it is: the organism looked for, and the seed of all draws."""

    organism: str
    seed: int


def bank_setting(
    network: ContactNetwork, plant: Plant, catalogue: Catalogue, timeline: Timeline, subject: Subject
) -> BankSetting:
    """The setting of the banks of one visit."""
    figures = catalogue.figures
    days_before = round(figures.number("history.days_before"))
    return BankSetting(
        network=network,
        clock=clock_of(plant, timeline, days_before),
        ecology=ecology_of(network, plant, figures, subject.organism),
        mechanisms=mechanisms_of(figures),
        spreads=spreads_of(figures),
        seed=subject.seed,
    )
