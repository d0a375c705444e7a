"""The `swabwright` command: each subcommand is loaded when it is asked for, so that help answers at once."""

import sys
from importlib import import_module

import click

from swabwright import __version__
from swabwright.errors import SwabwrightError

COMMANDS = {
    "accept": "swabwright.cli.accept:accept",
    "calibrate": "swabwright.cli.calibrate:calibrate",
    "clearance": "swabwright.cli.clearance:clearance",
    "custody": "swabwright.cli.custody:custody",
    "explain": "swabwright.cli.explain:explain",
    "findings": "swabwright.cli.findings:findings",
    "growth": "swabwright.cli.growth:growth",
    "next": "swabwright.cli.next:next_command",
    "plan": "swabwright.cli.plan:plan",
    "plant": "swabwright.cli.plant_commands:plant",
    "record": "swabwright.cli.record_commands:record",
    "results": "swabwright.cli.results_commands:results",
    "sample-size": "swabwright.cli.sample_size:sample_size",
    "scan": "swabwright.cli.scan:scan",
    "sites": "swabwright.cli.sites:sites",
    "strains": "swabwright.cli.strains:strains",
}


class LazyGroup(click.Group):
    """A group whose commands are imported on first use."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of all commands, in order."""
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command called `cmd_name`, or None."""
        place = COMMANDS.get(cmd_name)
        if place is None:
            return None
        module, name = place.split(":")
        command: click.Command = getattr(import_module(module), name)
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands in the help, without importing any of them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, HELP[name]) for name in sorted(COMMANDS)])


HELP = {
    "accept": "Accept a draft plan into a case folder, once its hashes are checked.",
    "calibrate": "Whether the engine's chances mean what they say, on invented truths.",
    "clearance": "After actions: how likely it is gone, and what one more round would make it.",
    "custody": "Containers, seals, hands, temperatures and hours to analysis.",
    "explain": "Say why a site's weight, reach and contacts are what they are.",
    "findings": "Say where it most likely lives, how sure, and what that rests on.",
    "growth": "How far an organism could have grown at given temperatures.",
    "next": "After results: which samples would say most about where it lives.",
    "plan": "Plan a visit: which sites, with what, in which order, and what it can show.",
    "plant": "Read site lists and floor drawings into a plant document.",
    "record": "Enter what was done and found, show it, and check it to the byte.",
    "results": "Take in what the laboratory found, and show what stands of every sample.",
    "sample-size": "How many samples, how sure, and what imperfect results say.",
    "scan": "Where detections stand closer together than chance.",
    "sites": "List the sites of a plant, with what is known of each.",
    "strains": "Which isolates are alike, by a laboratory's distances.",
}


@click.group(cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="swabwright")
def swabwright() -> None:
    """Find where a pathogen lives in a food plant: plan a visit, and say what it can and cannot show."""


def main() -> None:
    """Run the command line; a fault a person can mend ends in its sentence and exit code 2."""
    try:
        swabwright(standalone_mode=False)
    except SwabwrightError as error:
        click.echo(str(error), err=True)
        sys.exit(2)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped. Nothing was written.", err=True)
        sys.exit(130)


if __name__ == "__main__":
    main()
