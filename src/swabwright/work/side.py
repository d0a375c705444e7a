"""One response bank with everything that is read off it: items, weighted hypotheses, what is known."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.belief.draw import draw_rows
from swabwright.belief.earlier import earlier_results
from swabwright.belief.evidence import all_facts, weigh
from swabwright.belief.known import Known
from swabwright.belief.prior import Prior, make_prior
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.cells import expected_cells
from swabwright.detection.draws import item_draws
from swabwright.detection.items import Item
from swabwright.detection.model import detection_model
from swabwright.planning.problem import Past
from swabwright.spread.bank import ResponseBank
from swabwright.work.opened import OpenVisit


@dataclass(frozen=True)
class Side:
    """A bank, the prior over its sources, and hypothesis rows weighted by every fact of the investigation."""

    known: Known
    prior: Prior
    drawn: HypothesisRows
    """Before any fact."""
    rows: HypothesisRows
    """Given the facts."""
    past: Past

    @property
    def bank(self) -> ResponseBank:
        """The response bank."""
        return self.known.bank

    def cells(self, items: tuple[Item, ...]) -> npt.NDArray[np.float32]:
        """Expected recovered cells of these items in every row, shape (items, S)."""
        setting = self.known.setting
        draws = item_draws(self.bank, setting.plant, setting.catalogue, items)
        return expected_cells(self.bank, self.rows, items, draws)


def read_side(opened: OpenVisit, bank: ResponseBank, count: int) -> Side:
    """About `count` hypothesis rows of a bank, weighted by prior and facts; refused when a fact fits none."""
    case = opened.case
    known = Known(case.investigation, opened.setting, bank)
    prior = make_prior(case.plant, case.catalogue, bank.source_names)
    drawn = draw_rows(bank, prior, count, case.investigation.seed)
    rows = weigh(drawn, all_facts(known, drawn))
    return Side(known, prior, drawn, rows, _past(known, rows))


def _past(known: Known, rows: HypothesisRows) -> Past:
    """Earlier results by the site's place in the plant document; pieces of one site share them."""
    by_key = earlier_results(known, rows)
    sites = enumerate(known.setting.plant.sites)
    at_site = {place: by_key[key] for place, site in sites if (key := site.split_from or site.key) in by_key}
    return Past(at_site, detection_model(known.figures))
