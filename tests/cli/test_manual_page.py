"""The page of commands names every command and every option, as the commands have them."""

import click
import pytest

from swabwright.cli.main import swabwright
from swabwright.cli.manual_page import commands_told

PAGE = commands_told()


def commands(group, path="swabwright"):
    for name in group.list_commands(click.Context(group)):
        command = group.get_command(click.Context(group), name)
        if isinstance(command, click.Group):
            yield from commands(command, f"{path} {name}")
        else:
            yield f"{path} {name}", command


ALL = dict(commands(swabwright))


def part_of(path):
    return next(part for part in PAGE.split("### `")[1:] if part.startswith((f"{path} ", f"{path}`")))


@pytest.mark.parametrize("path", ALL)
def test_every_option_of_a_command_stands_in_its_part(path):
    options = [one.opts[0] for one in ALL[path].params if isinstance(one, click.Option)]
    assert [option for option in options if f"| `{option}" not in part_of(path)] == []


@pytest.mark.parametrize("path", ALL)
def test_the_part_of_a_command_has_its_example_and_nothing_of_the_terminal(path):
    assert "```sh\nswabwright " in part_of(path)
    assert "\b" not in part_of(path)


def test_arguments_stand_beside_the_command():
    assert "### `swabwright record add CASE KIND [FIELDS]`" in PAGE


def test_kinds_of_entries_stand_below_the_options():
    assert "KIND is one of: collected, not_taken" in part_of("swabwright record add")
