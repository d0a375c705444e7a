"""Response banks of small plants, and what is read from them."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
from builders.plants import tiny_plant

from swabwright.plant.registry import load_catalogue
from swabwright.plant.space import FloorSpace
from swabwright.spread.bank import Occasion
from swabwright.spread.build import Workshop, build_bank
from swabwright.spread.mechanisms import MECHANISMS
from swabwright.spread.network import contact_network
from swabwright.spread.occasions import Timeline
from swabwright.spread.setting import Subject, bank_setting
from swabwright.spread.spreads import steady

VISIT = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
"""A Wednesday, three hours after the tiny plant's lines start; London keeps UTC in March."""


def timeline(*moments, **changed):
    """A visit on 4 March 2026 from 8 to 13 h, read at 9 h or at the moments given."""
    usual = {
        "occasions": tuple(Occasion(f"occasion {n}", at, "rulebook_hour") for n, at in enumerate(moments or (VISIT,))),
        "visit": (VISIT - timedelta(hours=1), VISIT + timedelta(hours=4)),
        "implicated_days": (),
        "product_days": (date(2026, 3, 3),),
        "founded_by": VISIT,
    }
    return Timeline(**{**usual, **changed})


def network_of(plant):
    """The contact network of a plant with the catalogue that comes with the program."""
    return contact_network(plant, load_catalogue(), FloorSpace(plant))


def setting_of(plant=None, when=None, seed=7, *, certain=False):
    """The setting of a plant's banks; certain: without any uncertainty but the events themselves."""
    plant = plant or tiny_plant()
    subject = Subject("listeria_monocytogenes", seed)
    setting = bank_setting(network_of(plant), plant, load_catalogue(), when or timeline(), subject)
    return replace(setting, spreads=steady(setting.spreads)) if certain else setting


def bank_from(setting, histories=100, bank="A", **workshop):
    """A bank on one thread, unless told otherwise."""
    return build_bank(setting, bank=bank, histories=histories, workshop=Workshop(**{"workers": 1, **workshop}))


def loads(bank, source, row, occasion=0):
    """What a niche at `source` puts on `row`, by history; site keys by their number, other names as they are."""
    c, i = bank.source_names.index(_key(source)), bank.row_names.index(_key(row))
    found = np.zeros(bank.histories)
    for e in range(bank.histories):
        column = bank.column(e, occasion, c)
        found[e] = column.loads[column.rows == i].sum()
    return found


def all_loads(bank, occasion=0):
    """Mean load by (source, row) over all histories."""
    total = np.zeros((len(bank.source_names), len(bank.row_names)))
    for e in range(bank.histories):
        for c in range(len(bank.source_names)):
            column = bank.column(e, occasion, c)
            total[c, column.rows] += column.loads
    return total / bank.histories


def only(*mechanisms):
    """What to switch off so that only these mechanisms are left."""
    return tuple(f"mechanism:{name}" for name in MECHANISMS if name not in mechanisms)


def _key(name):
    return f"{name:032x}" if isinstance(name, int) else name
