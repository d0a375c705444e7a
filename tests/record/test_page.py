"""The page about the record names every kind and field, and its commands run."""

import shlex
from pathlib import Path
from typing import get_args

import pytest
from builders.console import examples_of
from builders.statements import Phone
from click.testing import CliRunner

from swabwright.cli.main import swabwright
from swabwright.record.entry import KINDS, AnyBody
from swabwright.record.spelling import statement_bytes

PAGE = (Path(__file__).parents[2] / "docs/reference/record.md").read_text("utf-8")
BODIES = get_args(get_args(AnyBody)[0])


def row_of(kind):
    (row,) = [line for line in PAGE.splitlines() if line.startswith("|") and f"`{kind}`" in line.split("|")[1]]
    return row


@pytest.mark.parametrize("body", BODIES, ids=lambda body: body.__name__)
def test_the_page_names_every_field_of_a_kind(body):
    kind = get_args(body.model_fields["kind"].annotation)[0]
    _, _, _, must, may, _ = row_of(kind).split("|")
    fields = {name: field.is_required() for name, field in body.model_fields.items() if name != "kind"}
    assert {name for name in fields if f"`{name}`" in must} == {name for name in fields if fields[name]}
    assert {name for name in fields if f"`{name}`" in may} == {name for name in fields if not fields[name]}


def test_no_kind_has_two_meanings():
    assert len(set(KINDS)) == len(KINDS)


def test_the_commands_of_the_page_run(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "case").mkdir()
    (tmp_path / "case/investigation.json").write_text("{}")
    (tmp_path / "photographs").mkdir()
    (tmp_path / "phone-a.jsonl").write_bytes(statement_bytes(Phone("phone-a").notes()))
    for command, _ in examples_of("reference/record.md"):
        assert CliRunner().invoke(swabwright, shlex.split(command)[1:]).exit_code == 0, command
