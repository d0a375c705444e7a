"""An invented proposal for the second visit of the smokehouse, as its paper gets it."""

from datetime import date, timedelta

from builders.found import sampled
from builders.papers import chance, investigation
from builders.smokehouse import smokehouse

from swabwright.case.investigation import Investigation
from swabwright.case.next_visit import NextVisit

AT = ("S015", "S018", "S025", "S012", "S021", "S033")
WAYS = ("information", "find_any", "hit_the_niche", "around_a_positive")


def two_visits():
    """The investigation with a second visit twelve days later."""
    plain = investigation().model_dump()
    first = plain["visits"][0]
    hours = {end: first["limits"][end] + timedelta(days=12) for end in ("starts_at", "ends_at")}
    second = first | {"id": "visit-2", "name": "Visit 2", "limits": first["limits"] | hours}
    return Investigation(**plain | {"visits": (first, second)})


def bits(value):
    return {"value": value, "low": value - 0.05, "high": value + 0.05, "basis": "256 outcomes drawn"}


def proposal(**more):
    """The document; `more` overrides any field."""
    plant = smokehouse()
    names = {site.code: site for site in plant.sites}
    fields = {
        "format": "swabwright/next-visit",
        "version": 1,
        "visit": "visit-2",
        "investigation": "Juniper Lane",
        "plant": plant.name,
        "software_version": "0.1.0",
        "model_version": "1",
        "seed": 7,
        "hashes": dict.fromkeys(("investigation", "plant", "figures", "results"), "0" * 64),
        "claim": 0.8,
        "radius_m": 3.0,
        "within_radius": 6,
        "so_far": {"results": 37, "detected": 6, "visits": ("visit-1",), "strain": "A", "strains": ("A", "B"),
                   "open_bits": bits(1.7), "told_apart": 9,
                   "leading": ({"place": "S016", "name": names["S016"].name, "share": 0.44, "dots": 440},)},
        "samples": tuple(_sample(names[code]) for code in AT),
        "nothing_stands_out": False,
        "ways": tuple(_way(way) for way in WAYS),
        "materials": (_material(),),
        "lacking": None,
        "left_out": ("sample 7W5K6P-W: typed as B: it says nothing of A",),
        "sentences": ("Next: 6 surface samples at Infeed B, underside (S015), and 5 more. Expected to say 0.9 of the "
                      "1.7 bits that are open about where it lives, under these assumptions.",
                      "They would let one site be named with a chance of 60 in 100.", "So far 37 results, 6 detected."),
    } | more  # fmt: skip
    return NextVisit(**fields)


def _sample(site):
    return {"site": site.code, "site_name": site.name, "room": site.room, "zone": site.zone, "device": "SW",
            "mode": "opened" if site.code == "S015" else "as_is", "chosen_for": "what it says", "bits": bits(0.15),
            "detected": chance(0.31, 0.2, 0.44)}  # fmt: skip


def _way(way):
    words = "Samples around a positive" if way == "around_a_positive" else way.replace("_", " ").capitalize()
    return {"way": way, "words": words, "sites": AT[:3], "bits": bits(0.9), "chance_of_finding": chance(0.7, 0.6, 0.8),
            "chance_of_hitting": chance(0.4, 0.3, 0.5), "chance_of_a_claim": chance(0.6, 0.5, 0.7),
            "of_it_right": chance(0.55, 0.45, 0.65)}  # fmt: skip


def _material():
    return {"line": "line-b", "line_name": "Line B", "kind": "incoming", "made_on": date(2026, 3, 17), "kg": 0.125,
            "words": "Raw material that goes into Line B: 125 g in all, from an unopened pack where there is one.",
            "increments": 5, "incoming_before": chance(0.05, 0.02, 0.11), "chance_detected": chance(0.04, 0.01, 0.1),
            "incoming_if_detected": chance(0.77, 0.63, 0.87),
            "incoming_if_not_detected": chance(0.04, 0.02, 0.1)}  # fmt: skip


def before():
    """The samples of the first visit."""
    return sampled(smokehouse())
