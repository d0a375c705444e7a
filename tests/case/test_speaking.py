"""Facts of an investigation speak of one strain, of any, or of another."""

from datetime import date

from builders.known import earlier_result, investigation, product_test

from swabwright.case.investigation import Implicated, Investigation
from swabwright.case.speaking import left_out_of, of_strain


def suspected(strain: str | None) -> Implicated:
    return Implicated(
        line="line-a", first_day=date(2026, 3, 2), last_day=date(2026, 3, 4), said_by="outbreak team", strain=strain
    )


def told(strain: str | None) -> Investigation:
    return investigation(
        implicated=(suspected(strain),),
        product_tests=(product_test("detected", strain=strain), product_test()),
        earlier_results=(earlier_result(result="detected", strain=strain), earlier_result("S004")),
    )


def counts(one: Investigation) -> tuple[int, int, int]:
    return len(one.implicated), len(one.product_tests), len(one.earlier_results)


def test_every_fact_speaks_of_any_strain() -> None:
    assert of_strain(told("A"), None, several=True) == told("A")


def test_what_is_typed_speaks_of_its_own_strain_only() -> None:
    assert counts(of_strain(told("A"), "A", several=True)) == (1, 2, 2)
    assert counts(of_strain(told("A"), "B", several=True)) == (0, 1, 1)


def test_an_untyped_detection_is_left_open_once_several_strains_are_known() -> None:
    assert counts(of_strain(told(None), "A", several=False)) == (1, 2, 2)
    assert counts(of_strain(told(None), "A", several=True)) == (1, 1, 1)


def test_what_is_left_out_is_said_with_its_reason() -> None:
    typed, untyped = (" ".join(left_out_of(told(strain), "B", several=True)) for strain in ("A", None))
    assert "earlier result at S003, detected: typed as A: it says nothing of B" in typed
    assert "line line-a is suspected of A" in typed
    assert "product of line line-a of 2026-03-03, detected: untyped" in untyped


def test_nothing_is_left_out_where_all_of_it_is_read() -> None:
    assert not list(left_out_of(told(None), "A", several=False))
