"""A case folder is read strictly, with every fault named, its place and its remedy."""

import json
import shutil
from pathlib import Path

import pytest

from swabwright.case.folder import read_case
from swabwright.errors import DocumentRefused, SwabwrightError

EXAMPLE = Path(__file__).parents[2] / "examples/juniper-lane"


@pytest.fixture
def case_folder(tmp_path):
    """A copy of the example that a test may spoil."""
    return Path(shutil.copytree(EXAMPLE, tmp_path / "case"))


def changed(folder, document, change):
    """The document with `change` applied to it as plain data."""
    file = folder / document
    content = json.loads(file.read_text(encoding="utf-8"))
    change(content)
    file.write_text(json.dumps(content), encoding="utf-8")


def refusal(folder):
    with pytest.raises(SwabwrightError) as caught:
        read_case(folder)
    return str(caught.value)


def test_the_example_is_a_case():
    case = read_case(EXAMPLE)
    assert case.visit(None).id == "visit-1"
    assert case.figures["rule.hours_after_line_start"].changed_by == "H. Okafor"


def test_a_case_without_rulebook_takes_the_shipped_one(case_folder):
    (case_folder / "rulebook.toml").unlink()
    (case_folder / "overrides.toml").unlink()
    case = read_case(case_folder)
    assert case.overrides_hash is None
    assert case.figures["rule.hours_after_line_start"].changed_by is None


def test_a_folder_that_is_no_case_says_what_a_case_is(tmp_path):
    assert "has no plant.json; a case needs" in refusal(tmp_path)


def test_a_missing_folder_is_named(tmp_path):
    assert f"no folder {tmp_path / 'nowhere'}" in refusal(tmp_path / "nowhere")


def test_text_that_is_not_utf8_names_the_byte(case_folder):
    (case_folder / "plant.json").write_bytes(b"\xff\xfe{}")
    assert "is not UTF-8 text (byte 0)" in refusal(case_folder)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (
            lambda i: i["implicated"][0].update(line="line-c"),
            "implicated[0].line: no line 'line-c'; did you mean 'line-",
        ),
        (lambda i: i["implicated"][0].update(last_day="2026-02-01"), "implicated[0].last_day: 2026-02-01 is before"),
        (lambda i: i["product_tests"][1].update(line="x"), "product_tests[1].line: no line 'x'"),
        (lambda i: i["earlier_results"][0].update(site="S999"), "earlier_results[0].site: no site 'S999'"),
        (lambda i: i["earlier_results"][0].update(device="ZZ"), "earlier_results[0].device: no device 'ZZ'"),
        (
            lambda i: i["earlier_results"][0].update(taken_at="2026-03-06T09:00:00+00:00"),
            "earlier_results[0].taken_at: 2026-03-06 09:00:00+00:00 is not before the first visit",
        ),
        (lambda i: i["presence"].update(lives_here=0.95), "presence: lives_here and incoming_only add to more than 1"),
        (lambda i: i["visits"][0].update(medium="tea"), "visits[0].medium: no medium 'tea'"),
        (lambda i: i.update(organism="listeria"), "organism: no organism 'listeria'; known: listeria_mono"),
        (
            lambda i: i["visits"][0]["limits"].update(ends_at="2026-03-05T08:00:00+00:00"),
            "visits[0].limits.ends_at: 2026-03-05 08:00:00+00:00 is not after the start",
        ),
        (lambda i: i["visits"].append(i["visits"][0]), "visits[1].id: 'visit-1' is already visits[0]"),
        (
            lambda i: i["visits"][0]["limits"]["must"].append({"site": "S035", "why": "asked"}),
            "visits[0].limits.must_not: site 'S035' stands in must as well",
        ),
        (lambda i: i["visits"][0]["limits"].update(samples=0), "visits[0].limits.samples"),
        (
            lambda i: i["visits"][0]["limits"].update(starts_at="2026-03-05T09:00:00"),
            "visits[0].limits.starts_at",
        ),
        (lambda i: i.update(organism="salmonella"), "no organism 'salmonella'; known: listeria_monocytogenes"),
        (lambda i: i.update(version=2), "newer"),
        (lambda i: i.update(colour="red"), "colour"),
    ],
)
def test_each_fault_of_the_investigation_is_named(case_folder, change, told):
    changed(case_folder, "investigation.json", change)
    assert told in refusal(case_folder)


def test_all_faults_are_told_at_once(case_folder):
    def spoil(investigation):
        investigation["implicated"][0]["line"] = "line-z"
        investigation["visits"][0]["medium"] = "tea"

    changed(case_folder, "investigation.json", spoil)
    with pytest.raises(DocumentRefused) as caught:
        read_case(case_folder)
    assert len(caught.value.faults) == 2


def test_a_dangling_room_is_named_with_the_nearest_one(case_folder):
    changed(case_folder, "plant.json", lambda plant: plant["sites"][14].update(room="slicng-and-packing"))
    assert "plant.json: sites[14].room: no room 'slicng-and-packing'; did you mean 'slicing-and-packing'?" in refusal(
        case_folder
    )


def test_an_unknown_override_is_refused(case_folder):
    (case_folder / "overrides.toml").write_text('[[override]]\nfigure = "rule.walk"\nvalue = 1\nwho = "A"\nwhy = "B"\n')
    assert "rule.walk" in refusal(case_folder)


def test_an_unknown_visit_is_refused_with_the_nearest_one():
    with pytest.raises(SwabwrightError, match="no visit 'visit-2'; did you mean 'visit-1'"):
        read_case(EXAMPLE).visit("visit-2")
