"""Invented findings in the smokehouse, as their papers get them: 38 results of one visit, seven detected."""

from datetime import UTC, date, datetime

from builders.papers import RESTS_ON, believed, chance, investigation
from builders.smokehouse import CHOSEN, smokehouse

from swabwright.case.findings import Findings
from swabwright.case.numbers import sample_numbers
from swabwright.reports.findings_papers import FindingsSheet
from swabwright.reports.sampled import Sampled
from swabwright.reports.stipple import stipple

DETECTED = {"S013", "S016", "S017", "S023", "S026", "S034", "S036"}
SHARES = {
    "S016": 0.44, "S017": 0.14, "S026": 0.16, "S034": 0.06, "S025": 0.03, "S023": 0.04, "S015": 0.02, "S018": 0.02,
    "room:slicing": 0.02, "room:thaw": 0.01, "S036": 0.01, "line:line-a": 0.01, "line:line-b": 0.04,
}  # fmt: skip
NOON = datetime(2026, 3, 16, 11, 30, tzinfo=UTC)
CLAIM = (
    "It most likely lives in or under Slicer B, housing seam (S016): 71 in 100, and between 55 and 82 whichever way we "
    "set what we could not measure, under these assumptions."
)
MOVED = (
    ("S016", 31.2, -6.5, -4.1), ("S026", 24.0, 5.5, -6.0), ("S017", 14.5, 9.1, -1.0), ("S013", 8.5, 2.5, 3.0),
    ("S025", 4.5, -9.5, -0.2), ("S034", -3.5, -4.0, -3.5), ("S033", 2.5, -0.5, -1.1), ("S023", 1.0, 0.2, 0.1),
)  # fmt: skip


def sampled(plant):
    """Every site of the plan, taken in its order."""
    numbers = sample_numbers("26-031", "visit-1", 7, ())
    return tuple(
        Sampled(next(numbers), str(order), "visit-1", site.code, site.zone, device, _fill(site.code))
        for order, (site, (*_, device, _more)) in enumerate(zip(plant.sites, CHOSEN, strict=False), 1)
    )


def _fill(code):
    return "detected" if code in DETECTED else "not-detected"


def findings(plant, **more):
    """The findings of these results; `more` overrides any field."""
    taken, names = sampled(plant), {site.code: site.name for site in plant.sites}
    numbers = {sample.site: sample.number for sample in taken}
    shares = believed(plant, SHARES)
    fields = {
        "format": "swabwright/findings",
        "version": 1,
        "investigation": "Juniper Lane",
        "reference": "26-031",
        "plant": plant.name,
        "strain": "A",
        "as_of": NOON,
        "visits": ("Visit 1",),
        "first_sample_on": date(2026, 3, 5),
        "last_sample_on": date(2026, 3, 5),
        "software_version": "0.1.0",
        "model_version": "1",
        "seed": 7,
        "hashes": dict.fromkeys(("investigation", "plant", "rulebook", "figures", "record_head"), "0" * 64)
        | {"overrides": None},
        "results": tuple(_result(sample, names) for sample in taken if sample.site != "S036"),
        "left_out": (f"sample {numbers['S036']}: typed as B: it says nothing of A",),
        "taken_on_trust": (),
        "blanks": ({"batch": "visit-1", "detected": 0, "not_detected": 2, "contaminated": chance(0.02, 0.02, 0.02),
                    "words": "Not detected in 2 blanks of Visit 1: nothing in them speaks of handling."},),
        "found": "Found in the plant.",
        "support": "site",
        "supported": "S016",
        "claim_needs": 70.0,
        "prior_set_by": "by the catalogue, unconfirmed",
        "prior_words": "cleaning difficulty x wetness x organism, 15 in 100 even, 5 in 100 not on the drawing",
        "tested_on": "tested on simulated plants only",
        "places": tuple(_place(plant, one) for one in sorted(shares, key=lambda one: -one.share)),
        "machines": (),
        "rooms": (),
        "not_on_the_drawing": chance(0.03, 0.01, 0.06),
        "incoming_material": chance(0.05, 0.02, 0.11),
        "two_niches": chance(0.22, 0.1, 0.4),
        "credible_set": {"places": ("S016", "S026", "S017"), "asked": 95.0, "chance": chance(0.95, 0.93, 0.97),
                         "words": "With 95 in 100 a niche is among Slicer B, Drain 6 and Conveyor B"},
        "presence": None,
        "weights": tuple(_weight(numbers, names, row) for row in MOVED),
        "other_priors": (
            {"words": "every drawn site alike", "leading": _ranked(names, "S016", 0.64),
             "ranked": (_ranked(names, "S016", 0.64), _ranked(names, "S026", 0.21))},
            {"words": "the site type alone", "leading": _ranked(names, "S016", 0.75),
             "ranked": (_ranked(names, "S016", 0.75), _ranked(names, "S017", 0.12))},
        ),
        "assumptions": tuple(
            {"figure": {"name": n, "words": w, "value": v, "source": s, "influence": i}, "leads_at_an_end": None}
            for n, w, v, s, i in RESTS_ON
        ),
        "assumptions_words": "Each figure was set to both ends of its range and the results were read again.",
        "hardest": ({"samples": (numbers["S023"],), "site": "S023", "site_name": names["S023"],
                     "unexplained": chance(0.31, 0.2, 0.44)},),
        "ways": ({"site": "S034", "site_name": names["S034"], "ways": (
            {"mechanism": "wheel", "words": "on wheels", "chance": chance(0.63, 0.5, 0.75)},
            {"mechanism": "foot", "words": "on boots", "chance": chance(0.37, 0.25, 0.5)})},),
        "ways_words": "The last step to each site; steps before the last are not told.",
        "reading": {"bank": "B", "histories": 10000, "effective_histories": 412.0, "leading_share_error_points": 1.1,
                    "lacking": None},
        "believed": shares,
        "stipple": stipple(plant, shares, 7),
        "sentences": ("Strain A: Found in the plant. Detected at 6 sites, by 37 results read.", CLAIM,
                      "Tested on simulated plants only."),
    } | more  # fmt: skip
    return Findings(**fields)


def _result(sample, names):
    outcome = "detected" if sample.fill == "detected" else "not_detected"
    return {"sample": sample.number, "kind": "surface", "site": sample.site, "site_name": names[sample.site],
            "outcome": outcome, "batch": "visit-1"}  # fmt: skip


def _place(plant, one):
    site = next((site for site in plant.sites if site.code == one.place), None)
    share = chance(one.share, one.share * 0.7, min(1.0, one.share * 1.3))
    here = chance(min(1.0, one.share * 1.6), one.share, min(1.0, one.share * 1.9))
    return {"place": one.place, "name": one.name, "room": site.room if site else None, "machine": None,
            "niche_here": here, "share": share, "remains_if_removed": chance(0.2, 0.1, 0.3),
            "another_too": chance(0.2, 0.1, 0.3)}  # fmt: skip


def _weight(numbers, names, row):
    code, *points = row
    places = ("S016", "S026", "S017")
    moved = tuple({"place": p, "name": names[p], "points": n} for p, n in zip(places, points, strict=True))
    return {"sample": numbers[code], "site_name": names[code], "leading_points": points[0], "moved": moved,
            "outcome": "detected" if code in DETECTED else "not_detected", "raised": None, "lowered": None,
            "leads_without": names["S016"]}  # fmt: skip


def _ranked(names, code, value):
    return {"place": code, "name": names[code], "niche_here": chance(value, value - 0.1, value + 0.1)}


def findings_sheet(**more):
    """The sheet of these findings."""
    plant = smokehouse()
    return FindingsSheet(findings(plant, **more), plant, investigation(), sampled(plant))
