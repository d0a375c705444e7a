"""The clean-clone check looks through a stranger's eyes and names what it misses."""

import pytest
from builders.house import ROOT

import clean_clone


@pytest.mark.parametrize("setting", ["PYTHONPATH", "VIRTUAL_ENV", "XDG_CACHE_HOME"])
def test_a_stranger_brings_no_settings(monkeypatch, tmp_path, setting):
    monkeypatch.setenv(setting, "/somewhere")
    env = clean_clone.stranger(tmp_path)
    assert setting not in env
    assert env["HOME"] == str(tmp_path)


def test_a_stranger_does_not_find_our_environment(monkeypatch, tmp_path):
    monkeypatch.setenv("PATH", f"{ROOT}/.venv/bin:/usr/bin")
    assert clean_clone.stranger(tmp_path)["PATH"] == "/usr/bin"


def test_the_way_to_the_registry_is_kept(monkeypatch, tmp_path):
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.delenv("NPM_CONFIG_USERCONFIG", raising=False)
    (tmp_path / ".npmrc").write_text("proxy=\n")
    assert clean_clone.stranger(tmp_path / "home")["NPM_CONFIG_USERCONFIG"] == str(tmp_path / ".npmrc")


def test_a_missing_paper_is_named(tmp_path, capsys):
    for name in ("plan.json", "plan.pdf", "walk.csv"):
        (tmp_path / name).touch()
    assert clean_clone.missing_papers(tmp_path) == 1
    assert "labels.pdf" in capsys.readouterr().out


def test_whole_papers_pass(tmp_path):
    for name in clean_clone.PAPERS:
        (tmp_path / name).touch()
    assert clean_clone.missing_papers(tmp_path) == 0
