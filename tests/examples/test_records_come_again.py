"""The examples' records are made from their stories, byte for byte, and hold together."""

from pathlib import Path

import make_fernhill
import make_record
import pytest

from swabwright.case.folder import read_case
from swabwright.record.journal import read_record
from swabwright.record.verify import not_accepted, verify_record
from swabwright.work.record_ground import read_ground
from swabwright.work.record_show import contradictions

pytestmark = pytest.mark.slow


EXAMPLES = Path(__file__).parents[2] / "examples"
MAKERS = {"juniper-lane-to-the-end": make_record.make, "fernhill-dairy": make_fernhill.make}
NAMES = sorted(MAKERS)


def files_of(case):
    """Every file of a case below its folder, with its bytes."""
    return {file.relative_to(case).as_posix(): file.read_bytes() for file in sorted(case.rglob("*")) if file.is_file()}


@pytest.mark.parametrize("name", NAMES)
def test_the_generator_writes_the_committed_case_again_to_the_byte(name, tmp_path):
    MAKERS[name](tmp_path / name, EXAMPLES / name / "plans")
    committed = {key: value for key, value in files_of(EXAMPLES / name).items() if not key.endswith(".lock")}
    made = files_of(tmp_path / name)
    assert sorted(made) == sorted(committed)
    assert [key for key in made if made[key] != committed[key]] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_entry_file_and_plan_holds_its_hash(name):
    verified = verify_record(EXAMPLES / name)
    assert verified.entries == len(read_record(EXAMPLES / name))
    assert (verified.plans, verified.torn_bytes) == (len(read_case(EXAMPLES / name).accepted), 0)


@pytest.mark.parametrize("name", NAMES)
def test_the_record_contradicts_neither_itself_nor_the_plant(name):
    assert contradictions(read_record(EXAMPLES / name), read_ground(EXAMPLES / name)) == ()


@pytest.mark.parametrize("name", NAMES)
def test_every_plan_in_the_folder_was_entered_as_accepted(name):
    assert not_accepted(EXAMPLES / name, read_record(EXAMPLES / name)) == ()


def test_the_example_before_its_first_visit_stays_without_a_record():
    case = read_case(EXAMPLES / "juniper-lane")
    assert case.next_visit().id == "visit-1"
    assert not (EXAMPLES / "juniper-lane" / "record.jsonl").exists()


def test_both_cases_of_juniper_lane_are_about_the_same_plant():
    before, after = EXAMPLES / "juniper-lane", EXAMPLES / "juniper-lane-to-the-end"
    assert before.joinpath("plant.json").read_bytes() == after.joinpath("plant.json").read_bytes()


def test_no_case_folder_tells_where_it_lives():
    names = [file.name for name in NAMES for file in (EXAMPLES / name).rglob("*")]
    assert "truths.toml" not in names
    assert not any("truth" in name for name in names)
