"""Invented clearance rounds in the smokehouse: six actions, three rounds, one to come, as their paper gets them."""

from datetime import UTC, date, datetime, timedelta

from builders.papers import chance, investigation
from builders.smokehouse import CHOSEN, smokehouse

from swabwright.case.clearance import Clearance
from swabwright.case.numbers import sample_numbers
from swabwright.reports.sampled import Sampled

FIRST = date(2026, 3, 25)
AT = ("S010", "S013", "S015", "S016", "S017", "S018", "S021", "S022", "S023", "S024", "S025", "S026", "S029", "S032",
      "S034", "S036", "S037", "S038", "S006", "S008")  # fmt: skip
FOUND = {("round-1", "S026")}
ACTIONS = (
    ("stop-b", None, "seen", ("S010",), 0.0, "Line B stopped; packs since 22 February held"),
    ("open-b", "opened_and_heated", "seen", ("S016",), 0.6, "Slicer B opened, heated, new seal"),
    ("duct", "replaced_or_rebuilt", "seen", ("S018",), 0.8, "Cable duct under slicer B filled and sealed"),
    ("pipe", "replaced_or_rebuilt", "seen", ("S026",), 0.8, "Drain 6: pipe changed, trap changed"),
    ("trolleys", "other", "said", ("S023",), 0.1, "Trolleys stay on their side of the barrier"),
    ("floor", "replaced_or_rebuilt", "promised", ("S025",), 0.0, "Floor around drain 6 laid again"),
)
LEVELS = (((0.04, 0.01, 0.09), (0.04, 0.01, 0.09)), ((0.74, 0.61, 0.83), (0.7, 0.57, 0.81)),
          ((0.89, 0.8, 0.94), (0.84, 0.72, 0.92)))  # fmt: skip
REQUIRED = (
    "The rulebook asks for 3 rounds in a row with nothing detected after the last action; 2 such rounds since then."
)
SENTENCES = (
    "Strain A: it is probably gone, 89 in 100 (80 to 94).",
    "Counting only the actions that were seen done, the chance that it is gone is 84 in 100 (72 to 92).",
    "One more round of 20 with nothing detected makes it 96.",
    REQUIRED,
)


def sampled():
    """Every sample of the three rounds."""
    plant = smokehouse()
    sites = {site.code: (site, device) for site, (*_, device, _) in zip(plant.sites, CHOSEN, strict=False)}
    made = []
    for number in (1, 2, 3):
        visit = f"round-{number}"
        numbers = sample_numbers("26-031", visit, 7, ())
        for at, code in enumerate(AT, 1):
            site, device = sites[code]
            fill = "detected" if (visit, code) in FOUND else "not-detected"
            made.append(Sampled(next(numbers), str(60 + 20 * number + at), visit, code, site.zone, device, fill))
    return tuple(made)


def gone(levels):
    """A chance with all actions and one with those seen only."""
    every, seen = levels
    return {"all_actions": chance(*every), "seen_only": chance(*seen)}


def clearance(**more):
    """The document; `more` overrides any field."""
    plant = smokehouse()
    names = {site.code: site for site in plant.sites}
    as_of = datetime(2026, 4, 14, 10, 5, tzinfo=UTC)
    fields = {
        "format": "swabwright/clearance",
        "version": 1,
        "investigation": "Juniper Lane",
        "plant": plant.name,
        "strain": "A",
        "software_version": "0.1.0",
        "model_version": "1",
        "seed": 7,
        "hashes": dict.fromkeys(("investigation", "plant", "rulebook", "figures", "record_head"), "0" * 64)
        | {"overrides": None},
        "as_of": as_of,
        "actions": tuple(_action(*one) for one in ACTIONS),
        "before_rounds": gone(((0.55, 0.35, 0.7), (0.5, 0.3, 0.66))),
        "rounds": tuple(_round(number, levels) for number, levels in enumerate(LEVELS, 1)),
        "now": gone(LEVELS[-1]),
        "if_not_gone": ({"place": "S026", "name": names["S026"].name, "share": chance(0.64, 0.5, 0.8)},),
        "required": {"rounds": 3, "rounds_done": 2, "source": "the rulebook of the example", "words": REQUIRED},
        "next_round": {
            "visit": "round-4",
            "planned_for": date(2026, 4, 15),
            "in_investigation": False,
            "chance_of_finding": chance(0.62, 0.5, 0.73),
            "samples": tuple(_to_come(at, names[code], as_of) for at, code in enumerate(AT[:9], 1)),
            "minutes": 150.0,
        },
        "ahead": ({"rounds": 1, "samples": 20, "gone": gone(((0.96, 0.9, 0.98), (0.93, 0.85, 0.97))),
                   "same_sites_again": chance(0.93, 0.86, 0.97)},),
        "asks": ("Let one round be unannounced, and one at the end of a production week.",
                 "Ask for the sanitation log of the day before every round."),
        "assumptions": ("What actions remove is assumed, nobody has confirmed it.",),
        "left_out": (),
        "lacking": None,
        "sentences": SENTENCES,
    } | more  # fmt: skip
    return Clearance(**fields)


def _action(name, kind, known_by, sites, removes, words):
    done = datetime(2026, 3, 17, 12, tzinfo=UTC) if known_by in ("seen", "said") else None
    return {"action": name, "kind_of_action": kind, "known_by": known_by, "done_at": done, "sites": sites, "rooms": (),
            "disturbs": False, "removes": removes, "words": words}  # fmt: skip


def _round(number, levels):
    detected = sum(visit == f"round-{number}" for visit, _ in FOUND)
    return {"visit": f"round-{number}", "name": f"Round {number}", "taken_on": FIRST + timedelta(weeks=number - 1),
            "results": len(AT), "detected": detected, "gone": gone(levels)}  # fmt: skip


def _to_come(order, site, as_of):
    return {"order": order, "site": site.code, "site_name": site.name, "room": site.room, "zone": site.zone,
            "device": "SP", "mode": "as_is", "arrive_at": as_of + timedelta(minutes=5 * order),
            "why": "Adds 2.0 in 100 to the chance of detecting what may be left, given the others."}  # fmt: skip


def case():
    """The plant and the investigation beside the document."""
    return smokehouse(), investigation()
