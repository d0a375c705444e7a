"""Results of samples as observations: surfaces, blanks by visit, materials; and why one is not read."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from swabwright.case.words import counted
from swabwright.detection.items import Item
from swabwright.detection.observed import Blanks, Counted, MaterialTest, Observations, Observed
from swabwright.record.results import CurrentResult
from swabwright.work.blank_words import blank_words
from swabwright.work.observed_items import Items
from swabwright.work.observed_materials import KINDS, material_test
from swabwright.work.observed_samples import LeftOut, SampleDone, Samples
from swabwright.work.observed_strains import Strain, Strains
from swabwright.work.results_rows import HeldRow
from swabwright.work.results_words import result_words

MILLION = 1e6
SURFACES = ("surface", "duplicate")


@dataclass(frozen=True)
class UsableSample:
    """A sample with the one result that is read of it, and the item or test that it was."""

    done: SampleDone
    result: CurrentResult
    indicator: bool
    item: Item | None = None
    test: MaterialTest | None = None

    @property
    def detected(self) -> bool:
        """Detected, or presumptive with its own rate of false ones."""
        return self.result.outcome in ("detected", "presumptive")


@dataclass(frozen=True)
class Usable:
    """Every sample that is read, in order of its number, and what is left out, in sentences."""

    samples: tuple[UsableSample, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True)
class Reader:
    """Reads the results of one organism, its indicators beside it."""

    samples: Samples
    items: Items
    organism: str
    """Its full name, as results write it."""
    held: Mapping[str, HeldRow]
    """Rows of later reports that are held apart, by sample: until they are resolved it has no valid result."""

    def usable(self) -> Usable:
        """The samples that can be read, and why the others cannot; the order of the record does not matter."""
        found, left_out = [], []
        for number in sorted(self.samples.view.current):
            try:
                found.append(self._usable(number, self.samples.view.current[number]))
            except LeftOut as reason:
                left_out.append(str(reason))
        waiting = [number for number in self.samples.view.taken if number not in self.samples.view.current]
        if waiting:
            left_out.append(f"{counted(len(waiting), 'collected sample')} without a result yet")
        return Usable(tuple(found), tuple(left_out))

    def _usable(self, number: str, results: tuple[CurrentResult, ...]) -> UsableSample:
        if number in self.held:
            row = self.held[number]
            raise LeftOut(
                f"sample {number}: a later report says '{row.says}' of it and is held apart ({row.reason}); no valid "
                "result until the laboratory resolves it"
            )
        result, indicator = self._result(number, results)
        done = self.samples.done(number)
        if done.kind == "blank":
            return UsableSample(done, result, indicator)
        one = UsableSample(done, result, indicator)
        if done.kind in KINDS:
            test = material_test(self.samples, done, self.items.bank.days, detected=one.detected)
            return UsableSample(done, result, indicator, test=test)
        if done.kind not in SURFACES:
            kind = done.kind.replace("_", " ")
            raise LeftOut(f"sample {number}: a {kind} cannot be read yet, as what such a sample recovers is not known")
        return UsableSample(done, result, indicator, item=self.items.of(done))

    def _result(self, number: str, results: tuple[CurrentResult, ...]) -> tuple[CurrentResult, bool]:
        """The result that is read: of the organism, else of an indicator. Raises LeftOut."""
        indicators = result_words().indicators_of(self.samples.case.investigation.organism)
        own = [one for one in results if one.organism == self.organism]
        beside = [one for one in results if one.organism in indicators]
        for one in (*own, *beside):
            if one.outcome not in (None, "no_valid_result"):
                return one, one in beside
        contradicted = [one.contradiction for one in (*own, *beside) if one.contradiction]
        if contradicted:
            raise LeftOut(contradicted[0])
        if own or beside:
            raise LeftOut(f"sample {number}: no valid result, so it says nothing")
        other = " and ".join(one.organism for one in results)
        raise LeftOut(f"sample {number}: tested for {other} only, not for {self.organism}")

    def observations(self, usable: Usable, told: Strains, strain: Strain) -> Observations:
        """What is read for one strain."""
        read = [one for one in usable.samples if not self._missing(one, told, strain)]
        return Observations(
            results=tuple(self._observed(one, one.item) for one in read if one.item),
            blanks=tuple(_blanks(one for one in read if one.done.kind == "blank")),
            materials=tuple(one.test for one in read if one.test),
            strain=strain,
            several=len(told.known) > 1,
        )

    def missing(self, usable: Usable, told: Strains, strain: Strain) -> Iterator[str]:
        """Why some samples are not read for a strain, in sentences."""
        for one in usable.samples:
            why = self._missing(one, told, strain)
            if why:
                yield f"sample {one.done.number} ({one.result.outcome}): {why}"

    def _missing(self, one: UsableSample, told: Strains, strain: Strain) -> str | None:
        if not one.detected:
            return None
        # an untyped blank is held against every strain: handling may have put any of them on a sample
        if one.done.kind == "blank" and one.done.number not in told.of_sample:
            return None
        return told.missing(one.done.number, strain)

    def _observed(self, one: UsableSample, item: Item) -> Observed:
        return Observed(
            sample=one.done.number,
            item=item,
            detected=one.detected,
            batch=one.done.visit.id,
            false_positive=self._false_positive(one),
            count=_count(one.result) if one.detected and not one.indicator else None,
        )

    def _false_positive(self, one: UsableSample) -> float:
        """Chance of a false detection of this kind of result: of a screen, of an indicator's other species, or both."""
        figures = self.items.case.figures
        right = 1.0
        if one.result.outcome == "presumptive":
            right *= 1.0 - figures.number("result.presumptive_false_positive")
        if one.indicator:
            own = f"result.non_target.{one.done.site.type}" if one.done.site else ""
            right *= 1.0 - figures.number(own if own in figures else "result.non_target.default")
        return 1.0 - right

    def rests_on(self, usable: Usable) -> Iterator[str]:
        """What the reading takes on trust, in sentences."""
        presumptive = [one.done.number for one in usable.samples if one.result.outcome == "presumptive"]
        if presumptive:
            rate = self.items.case.figures.number("result.presumptive_false_positive")
            yield (
                f"{counted(len(presumptive), 'presumptive result')} read as detected with a chance of "
                f"{100 * rate:.1f} in 100 of a false one, until confirmed: {', '.join(presumptive)}."
            )
        indicators = sum(one.indicator for one in usable.samples)
        if indicators:
            yield (
                f"{counted(indicators, 'result')} of an indicator, read with the share of sites that show it "
                f"without {self.organism}."
            )
        tests = [one for one in usable.samples if one.test]
        if tests:
            yield f"{counted(len(tests), 'test')} of material read as one increment each, the more clumped reading."
        for one in usable.samples:
            if one.done.kind == "blank" and one.detected:
                yield blank_words(one.done.number, one.done.visit.name)


def _blanks(blanks: Iterator[UsableSample]) -> Iterator[Blanks]:
    found = Counter((one.done.visit.id, one.detected) for one in blanks)
    for batch in sorted({batch for batch, _ in found}):
        yield Blanks(batch, found[batch, True], found[batch, False])


def _count(result: CurrentResult) -> Counted | None:
    body = result.latest.body
    # no colony beside a detection by enrichment: the plates were too few to count by
    if not body.colonies or body.plated_ppm is None:
        return None
    return Counted(body.colonies, body.plated_ppm / MILLION)
