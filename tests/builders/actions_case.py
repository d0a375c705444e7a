"""The example with a first visit's results, actions, and rounds after them."""

from datetime import datetime, timedelta

from builders.cases import change
from builders.laboratory import bring, collect, enter, results_case, row

from swabwright.case.numbers import sample_numbers

FEW = """
[[override]]
figure = "{0}"
value = {1}
who = "a test"
why = "quick"
"""
QUICK = {"inference.histories": 100, "clearance.most_histories": 100, "clearance.particles": 800}
QUICK |= {"clearance.planning_states": 300, "clearance.rounds_ahead": 6, "clearance.rounds_simulated": 2}
FIRST_DAY = datetime.fromisoformat("2026-03-05T09:10:00+00:00")
ACTION_DAY = "2026-03-10T12:00:00+00:00"
ROUND_SITES = ("S025", "S033", "S040", "S042", "S048", "S044")
BASIS = {"weight": "requirement", "legal_basis": "regulation", "condition_found": "wet", "outcome_wanted": "dry"}


def actions_case(folder, *, detected=(2,)):
    """A first visit with these of its numbers detected, the next two visits three and four weeks later, no action."""
    case = results_case(folder)
    overrides = case / "overrides.toml"
    text = overrides.read_text(encoding="utf-8") + "".join(FEW.format(*one) for one in QUICK.items())
    overrides.write_text(text, encoding="utf-8")
    change(case, "investigation.json", _with_rounds)
    found = [row(at, "detected" if at in detected else "not detected") for at in (0, 1, 2, 3, 4, 5, 6, 9)]
    bring(case, found)
    return case


def _with_rounds(document):
    first = document["visits"][0]
    first["limits"] |= {"samples": 16, "zone_minimums": {"3": 1}, "must": []}
    for number, weeks in ((2, 2), (3, 3)):
        hours = {
            end: (datetime.fromisoformat(first["limits"][end]) + timedelta(weeks=weeks)).isoformat()
            for end in ("starts_at", "ends_at")
        }
        visit = first | {"id": f"visit-{number}", "name": f"Round {number - 1}", "limits": first["limits"] | hours}
        document["visits"].append(visit)


def act(case, step="seen_done", kind="opened_and_heated", *, name="open-it", room="slicing-and-packing", **fields):
    """An action asked at every site of a room, and how it is known to be done."""
    where = {"room": room} if room else {}
    enter(case, {"kind": "action_asked", "action": name, "kind_of_action": kind, **BASIS, **where})
    told = {"promised": {"promised_by": "Plant manager", "method": "as asked"}, "said_done": {"said_by": "Manager"}}
    body = told.get(step, {"seen_by": "Ada Lind"}) | ({} if step == "promised" else {"done_at": ACTION_DAY})
    enter(case, {"kind": f"action_{step}", "action": name, **body, **fields})


def sampled_round(case, number, *, detected=(), sites=ROUND_SITES):
    """A round at these sites, number 1 or 2, with its results under a report of its own."""
    visit = f"visit-{number + 1}"
    day = FIRST_DAY + timedelta(weeks=number + 1)
    numbers = [one for one, _ in zip(sample_numbers("26-031", visit, 7, ()), sites, strict=False)]
    bodies = [
        collect(0, sample=one, site=site, taken_at=(day + timedelta(minutes=5 * at)).isoformat(timespec="seconds"))
        for at, (one, site) in enumerate(zip(numbers, sites, strict=True))
    ]
    enter(case, *bodies, at=(day + timedelta(hours=6)).isoformat())
    rows = [
        row(one, "detected" if site in detected else "not detected", Analysis_started=f"{day:%Y-%m-%d} 18:00")
        for one, site in zip(numbers, sites, strict=True)
    ]
    return bring(case, rows, accession=f"R26-{number}", reported_at=f"{day + timedelta(days=4):%Y-%m-%d} 12:00")
