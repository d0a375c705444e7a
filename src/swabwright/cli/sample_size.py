"""`swabwright sample-size`: the trade's statistics from the command line."""

import click

from swabwright.cli.sample_size_designs import freedom, risk_based, two_stage
from swabwright.cli.sample_size_results import (
    detection_level,
    interval,
    most_probable_number,
    pooled_prevalence,
    prevalence,
)
from swabwright.cli.sample_size_search import finite, large, pooled
from swabwright.cli.sample_size_words import in_own_words


@click.group()
def sample_size() -> None:
    """How many samples, how sure, and what the results of imperfect tests say.

    A unit is whatever is sampled once: a site, a pack, a lot. A system is all samples together. Every chance is a
    share from 0 to 1 and holds under the assumptions typed in.

    \b
    Example: swabwright sample-size large --design-prevalence 0.05 \\
      --unit-sensitivity 0.8
    """


for command in (
    *(large, finite, pooled, risk_based, two_stage, freedom),
    *(interval, prevalence, pooled_prevalence, most_probable_number, detection_level),
):
    sample_size.add_command(in_own_words(command))
