"""Forecasts whose truth is known: by hand, and of a forecaster who knows the chances by which truths are drawn."""

import numpy as np

from swabwright.inference.calibration import Forecast

PLACES, PLANTS = 12, 20


def forecast(share, niches, cluster="plant"):
    """A forecast of one niche with these shares."""
    own = np.array(share, np.float64)
    return Forecast(own, own, niches, cluster)


def honest_forecasts(count, seed=3):
    """One niche each, drawn by exactly the chances that are forecast."""
    random = np.random.default_rng(seed)
    shares = random.dirichlet(np.full(PLACES, 0.3), size=count)
    niches = [int(random.choice(PLACES, p=share)) for share in shares]
    return [
        forecast(share, (niche,), f"plant {number % PLANTS}")
        for number, (share, niche) in enumerate(zip(shares, niches, strict=True))
    ]
