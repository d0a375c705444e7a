"""`swabwright plant`: from a plant's own files to the plant document."""

from pathlib import Path

import click

from swabwright.plant.imports.sentences import outcome_lines
from swabwright.plant.registry import load_catalogue
from swabwright.work.import_plant import ImportRequest, import_files, refuse

FILE = click.Path(path_type=Path, dir_okay=False)


@click.group()
def plant() -> None:
    """Read site lists and floor drawings into a plant document."""


@plant.command("import")
@click.argument("sites", type=FILE)
@click.option("--drawing", type=FILE, required=True, help="The floor drawing, DXF of any version from R12 on.")
@click.option("--lines", "further", type=FILE, multiple=True, help="A further file of sheets; may be given again.")
@click.option("--mapping", type=FILE, help="TOML file that corrects what is guessed.")
@click.option("--mapping-draft", type=FILE, help="Write the guesses here as a mapping file, to be corrected.")
@click.option("--keep-keys", type=FILE, help="An earlier plant.json, whose sites keep their identity by code.")
@click.option("--out", type=FILE, default=Path("plant.json"), show_default=True, help="Where the document is written.")
def import_command(sites: Path, drawing: Path, out: Path, further: tuple[Path, ...], **given: Path | None) -> None:
    """Import the plant whose sites are listed in SITES (XLSX, ODS or CSV) and drawn in a floor drawing.

    Prints what was guessed, what was put aside and what nobody has confirmed. When a site type, a room or a shape
    cannot be understood, says which and writes nothing.

    Example: swabwright plant import sites.xlsx --drawing floor.dxf --out plant.json
    """
    request = ImportRequest(sites, drawing, out, further, **given)
    outcome = import_files(request, load_catalogue())
    click.echo("\n".join(outcome_lines(outcome)))
    refuse(outcome)
    click.echo(f"Written: {out}")
