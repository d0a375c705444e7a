"""An invented proposal for a next visit, for tests of what is said of it."""

from datetime import date

from swabwright.case.next_visit import Bits, MaterialSample, NextSample, NextVisit, NextVisitHashes, SoFar, WayGives
from swabwright.case.plan import Believed, Chance


def chance(value):
    return Chance(value=value, low=value * 0.8, high=value, basis="invented")


def bits(value):
    return Bits(value=value, low=value, high=value, basis="invented")


def way(name, words, sites=("S001", "S002"), said=1.5, claim=0.4):
    return WayGives(
        way=name, words=words, sites=sites, bits=bits(said), chance_of_finding=chance(0.7),
        chance_of_hitting=chance(0.5), chance_of_a_claim=chance(claim), of_it_right=chance(claim * 0.9),
    )  # fmt: skip


def sample(code="S001", chosen_for="what it says"):
    return NextSample(
        site=code, site_name="Drain 5 (invented)", room="room-1", zone=3, device="SP", mode="as_is",
        chosen_for=chosen_for, bits=bits(0.8), detected=chance(0.4),
    )  # fmt: skip


def material(kind="incoming"):
    return MaterialSample(
        line="line-a", line_name="Line A", kind=kind, words="Raw material of Line A: 125 g.", made_on=date(2026, 3, 5),
        kg=0.125, increments=5, incoming_before=chance(0.2), chance_detected=chance(0.1),
        incoming_if_detected=chance(0.9), incoming_if_not_detected=chance(0.15),
    )  # fmt: skip


def proposal(**changes):
    """Two samples, one way beside, raw material of one line."""
    usual = {
        "format": "swabwright/next-visit", "version": 1, "visit": "visit-2", "investigation": "Invented",
        "plant": "Invented plant", "software_version": "0", "model_version": "1", "seed": 7,
        "hashes": NextVisitHashes(investigation="a", plant="b", figures="c", results="d"), "claim": 0.8,
        "radius_m": 3.0, "within_radius": 4,
        "so_far": SoFar(
            results=20, detected=2, visits=("visit-1",), strain=None, strains=(), open_bits=bits(3.0), told_apart=9,
            leading=(Believed(place="S001", name="Drain 5", share=0.3, dots=300),),
        ),
        "samples": (sample(), sample("S002", "finding it")), "nothing_stands_out": False,
        "ways": (way("information", "What says most"), way("around_a_positive", "Samples around a positive")),
        "materials": (material(),), "lacking": None, "left_out": (), "sentences": ("-",),
    }  # fmt: skip
    return NextVisit(**(usual | changes))
