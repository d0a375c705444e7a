"""`swabwright record logger` and `swabwright custody`, as a person uses them."""

import json
import os

import pytest
from builders.loggers import WHO, enter, file_of, logged, packed_case, received, run
from builders.statements import NUMBERS

from swabwright.record.journal import read_record
from swabwright.record.verify import verify_record

A, B = NUMBERS[:2]
AS_OF = ("--as-of", "2026-03-06T12:00:00+01:00")
LOGGER = ("--container", "K-1", "--logger", "TL-1", *WHO)


@pytest.fixture
def case(tmp_path):
    return packed_case(tmp_path)


def told(case):
    return run("custody", case, *AS_OF)


def as_data(case):
    return json.loads(run("custody", case, *AS_OF, "--json"))


def test_the_logger_command_shows_its_guesses_and_enters(case):
    said = logged(case, file_of(case))
    assert "Temperature: column B 'Temperature (°C)' (--temperature-column overrules)." in said
    assert "4 readings from 2026-03-05 14:20 to 14:35 (+01:00), usually every 5 minutes; 4.0 to 10.0 °C." in said
    assert "Entered: entry 5." in said


def test_the_files_own_bytes_are_kept_under_their_hash(case):
    path = file_of(case)
    logged(case, path)
    body = read_record(case)[-1].statement.body
    assert (case / "files" / body.file.name).read_bytes() == path.read_bytes()
    assert (body.read_as.time_zone, body.read_as.unit, body.read_as.time_column) == ("Europe/Oslo", "C", "A")
    assert verify_record(case).files == 1


def test_the_same_file_read_the_same_way_is_entered_once(case):
    logged(case, file_of(case))
    assert "this file of logger TL-1 for container K-1 is entry 5 already" in logged(case, file_of(case))
    assert len(read_record(case)) == 5


def test_with_look_nothing_is_entered(case):
    assert logged(case, file_of(case), "--look").endswith("Nothing was entered.\n")
    assert len(read_record(case)) == 4
    assert not (case / "files").exists()


def test_json_says_how_it_was_read_and_every_reading(case):
    found = json.loads(logged(case, file_of(case), "--json"))
    assert found["readings"][2] == {"at": "2026-03-05T14:30:00+01:00", "temperature_c": 10.0}
    assert found["entered"]["entry"] == 5
    assert found["read_as"]["heading_row"] == 1


def test_without_a_time_zone_nothing_is_entered(case):
    said = run("record", "logger", case, file_of(case), *LOGGER)
    assert "in which time zone ran the logger's clock?" in said
    assert len(read_record(case)) == 4
    assert not (case / "files").exists()


def test_a_gap_is_told_in_minutes_and_does_not_refuse_the_file(case):
    rows = ["2026-03-05 14:20,4", "2026-03-05 14:25,4", "2026-03-05 14:30,4", "2026-03-05 15:10,4"]
    said = logged(case, file_of(case, *rows))
    assert "Not known for 40 minutes, from 2026-03-05 14:30 to 15:10 (+01:00): no reading there." in said
    assert "not known for 40 min, from 2026-03-05 14:30 to 15:10 (+01:00)." in told(case)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--time-column", "1"), "time-column"),
        (("--leave-out", "0"), "left-out"),
        (("--temperature-column", "Q"), "no column Q"),
    ],
)
def test_an_option_that_cannot_be_is_named(case, options, words):
    assert words in logged(case, file_of(case), *options)
    assert len(read_record(case)) == 4


def test_a_missing_file_is_named(case):
    assert "give the logger's CSV or XLSX file" in logged(case, case / "nothing.csv")


def test_a_full_disk_leaves_the_record_as_it_was_and_entering_again_works(case, monkeypatch):
    path, before = file_of(case), (case / "record.jsonl").read_bytes()
    with monkeypatch.context() as full:
        full.setattr(os, "write", fails_on_disk)
        assert "nothing was entered" in logged(case, path)
    assert (case / "record.jsonl").read_bytes() == before
    assert "Entered: entry 5." in logged(case, path)


def fails_on_disk(handle, content):
    raise OSError(28, "No space left on device")


def test_custody_tells_container_seal_temperatures_and_deadlines(case):
    logged(case, file_of(case))
    received(case, temperature_tenths_c=52, probe="P-3", accession="L-9")
    said = told(case)
    for words in (
        "Container K-1: 2 samples, packed 2026-03-05T14:22:00+01:00, at the laboratory 2026-03-05T14:35:00+01:00.",
        f"In it: {A}, {B}.",
        "Seals at both ends: set last and found are the same, found intact.",
        "Logger TL-1: above 8.0 °C for 4.5 minutes, from 2026-03-05 14:27 to 14:32 (+01:00), highest 10.0 °C.",
        "At receipt by State laboratory: 5.2 °C by probe P-3; condition: cold, dry.",
        "22 h 00 min so far; no start of analysis is in the record; target of 24 h: 2 h 00 min left, ends 2026-03-06",
        "decided and signed by the laboratory and the lead",
    ):
        assert words in said


def test_custody_tells_the_hands_in_order_with_waybill_and_state(case):
    hand = {"giver": "Ada Lind", "taker": "Bo Holm", "purpose": "transport", "condition": "cold", "seals_intact": True}
    enter(case, "hand_over", "15:00", containers=["K-1"], **hand)
    bill = {"container": "K-1", "carrier": "Invented Couriers", "waybill": "W-77", "seal": "0088"}
    enter(case, "waybill", "16:00", given_by="Bo Holm", **bill)
    assert (
        f"Sample {A}: in the hand of Invented Couriers. Ada Lind since 2026-03-05T14:00:00+01:00, "
        "then Bo Holm since 2026-03-05T15:00:00+01:00 (transport, cold, seals intact), "
        "then Invented Couriers since 2026-03-05T16:00:00+01:00 (waybill W-77, seal 0088)."
    ) in told(case)


def test_an_opened_seal_is_a_fact_with_who_why_witness_and_count(case):
    opened = {"opened_by": "Driver", "why": "ice put in", "witness": "Bo Holm", "samples_counted": 2}
    enter(case, "seal_opened", "14:38", container="K-1", seal="0088", **opened)
    enter(case, "seal_set", "14:40", container="K-1", seal="0089")
    received(case, at="15:00", seal="0089")
    opened = "seal 0088 opened by Driver: ice put in; witness: Bo Holm; no photograph entered; 2 samples counted"
    assert opened in told(case)
    assert "Seals opened or found changed on the way: 1." in told(case)
    assert as_data(case)["containers"][0]["seals"]["incidents"] == 1


def test_another_seal_at_the_laboratory_is_told(case):
    received(case, seal="0099")
    assert "Seals at both ends: set last and found differ, or it was found not intact." in told(case)


def test_a_container_that_goes_out_again_starts_without_the_seals_of_before(case):
    received(case, at="14:50")
    collected = {"sample": NUMBERS[2], "sample_kind": "surface", "site": "S014", "zone": 3, "device": "SP"}
    enter(case, "collected", "15:00", **collected)
    enter(case, "container_packed", "15:10", container="K-1", samples=[NUMBERS[2]])
    enter(case, "seal_set", "15:11", container="K-1", seal="0091")
    first, second = (one["seals"] for one in as_data(case)["containers"])
    assert (first["same_at_both_ends"], second["same_at_both_ends"]) == (True, None)
    assert (len(first["facts"]), second["facts"]) == (2, ["2026-03-05T15:11:00+01:00: seal 0091 set"])


def test_without_logger_data_the_temperatures_are_not_known(case):
    assert "No logger data are in the record; temperatures on the way are not known." in told(case)


def test_a_logger_that_was_not_packed_along_is_told(case):
    logged(case, file_of(case), logger="TL-9")
    assert "Logger TL-9: entered for this container; packed with TL-1." in told(case)


def test_data_for_a_container_without_samples_are_told(case):
    logged(case, file_of(case), container="K-7")
    assert "Container K-7: data of logger TL-1, but no sample was packed in it." in told(case)


def test_a_steady_journey_says_that_no_known_moment_was_outside(case):
    logged(case, file_of(case, "2026-03-05 14:20,4", "2026-03-05 14:50,4"))
    assert "Logger TL-1: no known moment above 8.0 °C or below 2.0 °C." in told(case)
    assert as_data(case)["containers"][0]["loggers"][0]["mean_kinetic_c"] == pytest.approx(4.0)


def test_custody_as_data_has_excursions_and_clocks(case):
    logged(case, file_of(case))
    found = as_data(case)
    (excursion,) = found["containers"][0]["loggers"][0]["excursions"]
    # Up from 6 to 10 C: 8 C at half; down from 10 to 5 C: 8 C at two fifths of five minutes.
    assert (excursion["begins"], excursion["ends"]) == ("2026-03-05T14:27:30+01:00", "2026-03-05T14:32:00+01:00")
    assert found["samples"][A]["deadline"]["limit_ends"] == "2026-03-07T14:00:00+01:00"
    assert found["limits"] == {"low_c": 2.0, "high_c": 8.0}


def test_a_sample_collected_after_the_moment_asked_for_is_told_so(case):
    said = run("custody", case, "--as-of", "2026-03-05T14:05:00+01:00")
    assert "collected 2026-03-05T14:10:00+01:00; by the record that is later than the moment asked for" in said


def test_the_record_shows_how_a_file_was_read(case):
    logged(case, file_of(case))
    assert "read as (heading row 1, time column A, temperature column B, unit C, time zone Europe/Oslo)" in run(
        "record", "show", case
    )


def test_an_empty_record_says_so_without_fault(tmp_path):
    assert told(tmp_path).startswith("As of 2026-03-06 11:00 (+00:00).")


@pytest.mark.parametrize(("as_of", "words"), [("tomorrow", "is no time"), ("2026-03-06T12:00:00", "has no offset")])
def test_a_moment_that_cannot_be_read_is_refused(case, as_of, words):
    assert words in run("custody", case, "--as-of", as_of)


def test_a_folder_that_is_not_there_is_named(tmp_path):
    assert "no folder" in told(tmp_path / "nowhere")
