"""`swabwright calibrate`: whether the engine's chances mean what they say, on invented truths."""

from pathlib import Path

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import CASE, json_option, visit_option
from swabwright.cli.steps import Steps
from swabwright.errors import SwabwrightError
from swabwright.work.answers import answers_as_json, answers_as_text
from swabwright.work.calibrate import calibrate_cases, calibrate_own
from swabwright.work.calibrate_said import Calibrated
from swabwright.work.storage import cache_folder

USUAL = 100


@click.command()
@click.argument("case", type=CASE, required=False)
@click.option("--truths", type=CASE, help="A folder of case folders with a truth.json beside their documents.")
@click.option("--count", type=click.IntRange(min=2), help="How many truths; 100, or all of --truths, by default.")
@click.option("--seed", type=click.IntRange(min=0), default=1, show_default=True, help="Of truths of the own model.")
@visit_option
@json_option
def calibrate(
    case: Path | None,
    truths: Path | None,
    count: int | None,
    seed: int,
    visit_id: str | None,
    *,
    as_json: bool,
) -> None:
    """Say whether the engine's chances mean what they say: sets, chances and claims held against known truths.

    With --truths, every case folder below it is planned and read, and its truth.json tells what was found. Without
    it, truths come from the engine's own model on the plant of CASE; that tests the reckoning, not the model.

    Example: swabwright calibrate CASE --count 200
    """
    with Steps(quiet=as_json) as steps:
        if (case is None) == (truths is None):
            raise SwabwrightError("name one: CASE, for truths of the engine's own model, or --truths with a folder")
        found = _of_cases(truths, count, steps) if truths else _own(case, visit_id, (count or USUAL, seed), steps)
    click.echo(answers_as_json(calibration=found) if as_json else answers_as_text(found))


def _of_cases(truths: Path, count: int | None, steps: Steps) -> Calibrated:
    return calibrate_cases(truths, count, cache_folder=cache_folder(), say=steps)


def _own(case: Path | None, visit_id: str | None, asked: tuple[int, int], steps: Steps) -> Calibrated:
    opened = read_case(case or Path())
    count, seed = asked
    visit = opened.visit(visit_id)
    return calibrate_own(opened, visit, count, seed=seed, cache_folder=cache_folder(), say=steps)
