"""What an investigation says of one strain: facts of another say nothing of it."""

from collections.abc import Iterator
from typing import TypeVar

from swabwright.case.investigation import EarlierResult, Implicated, Investigation, ProductTest

Kind = TypeVar("Kind", Implicated, ProductTest, EarlierResult)


def of_strain(investigation: Investigation, strain: str | None, *, several: bool) -> Investigation:
    """The investigation with the facts that speak of a strain; None is any strain, of which all of them speak.

    Typed as another strain, a detection or a suspicion is left out. Untyped, a detection is left out where the
    laboratory knows several strains; a suspicion stays. 'Not detected' speaks of every strain.
    """
    if strain is None:
        return investigation
    return investigation.model_copy(
        update={
            "implicated": tuple(one for one in investigation.implicated if one.strain in (None, strain)),
            "product_tests": tuple(t for t in investigation.product_tests if _speaks(t, strain, several=several)),
            "earlier_results": tuple(e for e in investigation.earlier_results if _speaks(e, strain, several=several)),
        }
    )


def _speaks(fact: ProductTest | EarlierResult, strain: str, *, several: bool) -> bool:
    untyped_may_be_it = fact.strain is None and not several
    return fact.result == "not_detected" or fact.strain == strain or untyped_may_be_it


def left_out_of(investigation: Investigation, strain: str | None, *, several: bool) -> Iterator[str]:
    """In sentences, the facts of an investigation that are not read for a strain."""
    read = of_strain(investigation, strain, several=several)
    for one in _without(investigation.implicated, read.implicated):
        yield f"line {one.line} is suspected of {one.strain}: it says nothing of {strain}"
    for test in _without(investigation.product_tests, read.product_tests):
        yield f"product of line {test.line} of {test.made_on}, detected: {_why(test.strain, strain)}"
    for result in _without(investigation.earlier_results, read.earlier_results):
        yield f"earlier result at {result.site}, detected: {_why(result.strain, strain)}"


def _without(every: tuple[Kind, ...], kept: tuple[Kind, ...]) -> Iterator[Kind]:
    stays = {id(one) for one in kept}
    return (one for one in every if id(one) not in stays)


def _why(typed: str | None, strain: str | None) -> str:
    if typed:
        return f"typed as {typed}: it says nothing of {strain}"
    return "untyped, while several strains are known: it is left open which one it is"
