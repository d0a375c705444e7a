"""Compares the model with the published record and writes the page of the manual: `python -m validation`."""

import argparse
from pathlib import Path

import click

from swabwright.plant.registry import load_catalogue
from validation.compare import Comparison, compare
from validation.origins import origins
from validation.page import PAGE, Outcome, page, summary
from validation.plants import see_plants
from validation.published import load_published, load_settings
from validation.tables import in_100
from validation.variations import vary
from validation.weights import weigh_groups


def main() -> None:
    """Print the table and write the page; takes about two minutes."""
    parser = argparse.ArgumentParser(prog="python -m validation", description=__doc__)
    parser.add_argument("--out", type=Path, default=PAGE, help="where the page is written")
    arguments = parser.parse_args()
    published, settings, catalogue = load_published(), load_settings(), load_catalogue()
    seen = see_plants(catalogue, settings)
    rows = compare(seen, published, settings)
    for row in rows:
        click.echo(_line(row))
    varied = vary(catalogue, settings, published.variations)
    outcome = Outcome(settings, rows, weigh_groups(catalogue, seen), varied, origins(seen))
    arguments.out.write_text(page(published, outcome), "utf-8")
    click.echo(f"\n{summary(outcome)}\n\nWritten: {arguments.out}")


def _line(row: Comparison) -> str:
    if row.kind == "contrast":
        return f"{row.id:36} {row.published:6.1f}  predicted {row.low:.1f} to {row.high:.1f} times  {row.support}"
    return f"{row.id:36} {in_100(row.published):>6}  predicted {in_100(row.low)} to {in_100(row.high)}  {row.support}"


if __name__ == "__main__":
    main()
