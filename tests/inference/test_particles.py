"""Hypotheses drawn from a posterior stand for it."""

import numpy as np
import pytest
from builders.known import tiny_known
from builders.results import observed, results_at

from swabwright.belief.prior import make_prior
from swabwright.belief.shares import shares
from swabwright.detection.observed import Blanks, Observations
from swabwright.inference.particles import particles
from swabwright.inference.past import past_results
from swabwright.inference.posterior import posterior
from swabwright.inference.reading import read

COUNT = 20_000


@pytest.mark.parametrize("blanks", [(), (Blanks("visit-1", detected=1, silent=1),)])
def test_shares_of_particles_are_those_of_the_posterior(blanks: tuple[Blanks, ...]) -> None:
    known = tiny_known(histories=60)
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    reading = read(known, Observations(results_at(known, (0,), (1, 2)), blanks))
    after = posterior(reading, prior)
    drawn = particles(reading, prior, after, COUNT)
    assert shares(drawn, len(prior.weight)) == pytest.approx(after.share, abs=0.005)
    assert (drawn.sources[:, 1] >= 0).mean() == pytest.approx(after.two_niches, abs=0.005)


def test_the_past_holds_every_result_at_its_site() -> None:
    known = tiny_known(histories=60)
    again = observed(known, 0, sample="again", detected=True)
    results = (*results_at(known, (0,), (1,)), again)
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    reading = read(known, Observations(results))
    drawn = particles(reading, prior, posterior(reading, prior), 50)
    past = past_results(known, results, drawn, reading.states[0].rates)
    assert past[again.item.shared_key].counts == (2, 0)
    assert np.isfinite(past[again.item.shared_key].cells).all()
