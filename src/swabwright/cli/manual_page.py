"""What the manual says of every command: its help, its example and its options, from the commands themselves."""

from collections.abc import Iterator

import click

from swabwright.cli.main import swabwright

EXAMPLE = "Example: "


def commands_told() -> str:
    """Every command with its words, its example and a table of its options, as Markdown."""
    with click.Context(swabwright, info_name="swabwright") as context:
        parts = [part for name in swabwright.list_commands(context) for part in _command(context, name)]
    return "\n\n".join(parts) + "\n"


def _command(above: click.Context, name: str) -> Iterator[str]:
    group = above.command
    command = group.get_command(above, name) if isinstance(group, click.Group) else None
    if command is None:
        return
    context = click.Context(command, info_name=name, parent=above)
    yield f"### `{context.command_path} {' '.join(_arguments(command, context))}".rstrip() + "`"
    words, example = _help(command)
    yield words
    if isinstance(command, click.Group):
        for each in command.list_commands(context):
            yield from _command(context, each)
        return
    if example:
        yield f"```sh\n{example}\n```"
    yield _options(command, context)
    if command.epilog:
        yield command.epilog


def _arguments(command: click.Command, context: click.Context) -> list[str]:
    if isinstance(command, click.Group):
        return ["COMMAND"]
    return [one.make_metavar(context) for one in command.params if isinstance(one, click.Argument)]


def _help(command: click.Command) -> tuple[str, str]:
    """The words of a help in paragraphs of one line, and its example as it is written."""
    words, _, example = (command.help or "").replace("\b\n", "").partition(EXAMPLE)
    paragraphs = [" ".join(each.split()) for each in words.strip().split("\n\n")]
    return "\n\n".join(paragraphs), example.strip()


def _options(command: click.Command, context: click.Context) -> str:
    told = [one.get_help_record(context) for one in command.params if isinstance(one, click.Option)]
    rows = [
        ("option", "what it does"),
        ("---", "---"),
        *((f"`{_cell(each[0])}`", _cell(each[1])) for each in told if each),
    ]
    return "\n".join(f"| {name} | {does} |" for name, does in rows)


def _cell(text: str) -> str:
    return text.replace("|", " or ")
