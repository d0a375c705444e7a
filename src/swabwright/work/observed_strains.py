"""Which strain a detected sample speaks of, and for which it says nothing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swabwright.record.laboratory import Isolate
from swabwright.record.results import CurrentResult

Strain = str | None
"""None is any strain."""


@dataclass(frozen=True)
class Strains:
    """The strains that a laboratory told apart, and the samples that each was found in."""

    of_sample: dict[str, frozenset[str]]

    @property
    def known(self) -> tuple[str, ...]:
        """Every strain, in order of its name."""
        return tuple(sorted(frozenset().union(*self.of_sample.values())))

    def asked(self, detected: Iterable[str]) -> tuple[Strain, ...]:
        """The strains to read results for; any strain too when a detected sample is untyped or none is typed."""
        untyped = any(sample not in self.of_sample for sample in detected)
        return (*self.known, *((None,) if untyped or not self.known else ()))

    def missing(self, sample: str, strain: Strain) -> str | None:
        """Why a detected sample says nothing of a strain; None when it is a detection of it."""
        typed = self.of_sample.get(sample)
        if strain is None or (typed and strain in typed):
            return None
        if typed:
            return f"typed as {' and '.join(sorted(typed))}: it says nothing of {strain}"
        if len(self.known) > 1:
            return f"untyped, while {len(self.known)} strains are known: it is left open which one it is"
        return None


def strains_of(isolates: Sequence[Isolate], current: dict[str, tuple[CurrentResult, ...]], organism: str) -> Strains:
    """Strains by the isolates of samples that are detected or presumptive for the organism as things stand."""
    standing = {
        sample
        for sample, results in current.items()
        for one in results
        if one.organism == organism and one.outcome in ("detected", "presumptive")
    }
    found: dict[str, frozenset[str]] = {}
    for isolate in isolates:
        if isolate.strain and isolate.organism == organism and isolate.sample in standing:
            found[isolate.sample] = found.get(isolate.sample, frozenset()) | {isolate.strain}
    return Strains(found)
