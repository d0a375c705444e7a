"""Set-up passes by what is done, does again what has changed, and says what helps when it cannot."""

import platform
import subprocess
import sys
from pathlib import Path

import pytest
from builders.house import ROOT

import kernels
import packages
import setup
import stages
import stamps
import steps
import typefaces
import wheel_needs
from machine import require_room


@pytest.fixture
def lock(tmp_path):
    path = tmp_path / "some.lock"
    path.write_text(
        "click==8.5.1 \\\n    --hash=sha256:aa\nuv==1.2 \\\n    --hash=sha256:bb \\\n    --hash=sha256:cc\n"
    )
    return path


def test_a_step_is_passed_by_after_its_stamp(tmp_path, lock):
    mark = stamps.fingerprint([lock])
    assert not stamps.is_current("run", mark, tmp_path / "stamps")
    stamps.put("run", mark, tmp_path / "stamps")
    assert stamps.is_current("run", mark, tmp_path / "stamps")


def test_a_changed_lock_sets_up_again(lock):
    before = stamps.fingerprint([lock])
    lock.write_text(lock.read_text() + "rich==15.0\n")
    assert stamps.fingerprint([lock]) != before


def test_another_python_sets_up_again(lock, monkeypatch):
    before = stamps.fingerprint([lock])
    monkeypatch.setattr(sys, "version", "3.14.0")
    assert stamps.fingerprint([lock]) != before


def test_a_moved_project_sets_up_again(lock, tmp_path):
    assert stamps.fingerprint([lock], tmp_path / "here") != stamps.fingerprint([lock], tmp_path / "there")


@pytest.mark.parametrize(
    ("stamped", "asked", "done"), [("dev", "run", True), ("run", "dev", False), ("run", "run", True)]
)
def test_the_dev_set_serves_a_start_but_not_the_reverse(monkeypatch, stamped, asked, done):
    monkeypatch.setattr(stamps, "is_current", lambda name, mark: name == stamped)
    assert packages.is_set_up(asked) is done


@pytest.mark.parametrize(("made_at", "kept"), [("here", True), ("elsewhere", False)])
def test_an_environment_is_kept_only_where_it_was_made(monkeypatch, tmp_path, made_at, kept):
    ran = []
    monkeypatch.setattr(packages, "VENV", tmp_path / "here")
    monkeypatch.setattr(packages, "PYTHON", Path(sys.executable))
    monkeypatch.setattr(packages, "run", ran.append)
    (packages.site_packages() / "pip").mkdir(parents=True)
    (tmp_path / "here" / "pyvenv.cfg").write_text(f"command = python3 -m venv --clear {tmp_path / made_at}\n")
    packages.make_environment()
    assert (ran == []) is kept


def test_the_command_runs_from_a_folder_with_a_space(tmp_path):
    command = tmp_path / "a plant" / "swabwright"
    command.parent.mkdir()
    (command.parent / "python").symlink_to(sys.executable)
    words = packages.LAUNCHER.format(python=command.parent / "python").replace("swabwright.cli.main", "platform")
    command.write_text(words.replace("import main", "import python_version as main"))
    command.chmod(0o755)
    ran = subprocess.run([command], capture_output=True, text=True)
    assert ran.stderr.strip() == platform.python_version()


def test_a_failed_install_leaves_no_stamp(monkeypatch):
    put = []
    monkeypatch.setattr(stamps, "put", lambda name, mark: put.append(name))
    monkeypatch.setattr(packages, "is_set_up", lambda kind: False)
    monkeypatch.setattr(packages, "make_environment", lambda: None)
    monkeypatch.setattr(packages, "run", lambda *_: (_ for _ in ()).throw(steps.Trouble("no network", "find one")))
    with pytest.raises(steps.Trouble, match="no network"):
        packages.set_up("run")
    assert put == []


def test_pip_steps_in_when_uv_cannot_install(monkeypatch, lock):
    tried = []

    def only_pip_works(command, env=None):
        tried.append("uv" if "uv" in command else "pip")
        if "uv" in command:
            raise steps.Trouble("uv failed", "none")

    monkeypatch.setattr(packages, "run", only_pip_works)
    monkeypatch.setattr(packages, "VENV", lock.parent)
    packages.install(lock)
    assert tried == ["pip", "uv", "uv", "pip"]


def test_the_installer_itself_is_taken_by_its_hashes(lock):
    assert packages.locked_entry(lock.read_text(), "uv") == (
        "uv==1.2 \\\n    --hash=sha256:bb \\\n    --hash=sha256:cc\n"
    )


def test_a_package_missing_from_the_lock_is_named(lock):
    with pytest.raises(steps.Trouble, match="'pip' is not in the lock file"):
        packages.locked_entry(lock.read_text(), "pip")


def test_a_full_disk_is_told_before_anything_is_fetched(tmp_path):
    with pytest.raises(steps.Trouble, match="GB free") as caught:
        require_room(tmp_path, needed_gb=1e9)
    assert "larger disk" in caught.value.remedy


def test_a_failed_command_shows_what_it_said():
    with pytest.raises(steps.Trouble) as caught:
        steps.run([sys.executable, "-c", "print('no such package'); raise SystemExit(3)"])
    assert "ended with 3" in str(caught.value)
    assert caught.value.remedy == "no such package"


def test_kernels_are_compiled_once_and_again_when_their_list_changes(monkeypatch, tmp_path):
    module = tmp_path / "warm.py"
    monkeypatch.setattr(kernels, "MODULE", module)
    monkeypatch.setattr(kernels, "run", lambda *_: None)
    monkeypatch.setattr(
        stamps, "is_current", lambda name, mark: (tmp_path / name).is_file() and (tmp_path / name).read_text() == mark
    )
    monkeypatch.setattr(stamps, "put", lambda name, mark: (tmp_path / name).write_text(mark))
    module.write_text("one")
    kernels.set_up()
    assert kernels.is_set_up()
    module.write_text("two")
    assert not kernels.is_set_up()


def test_a_command_that_is_not_there_is_told_with_a_remedy(tmp_path):
    with pytest.raises(steps.Trouble, match="cannot be run") as caught:
        steps.run([tmp_path / "npm", "ci"])
    assert "delete the folder .venv" in caught.value.remedy


def test_steps_speak_on_the_error_stream(capsys):
    with steps.step("laying down"):
        pass
    heard = capsys.readouterr()
    assert heard.out == ""
    assert heard.err.startswith("set-up: laying down ...")


@pytest.mark.parametrize("arguments", [["quck"], ["quick", "--full"], ["bench", "--fast"]])
def test_an_unknown_check_is_refused_with_the_known_ones(arguments):
    with pytest.raises(steps.Trouble) as caught:
        setup.check(arguments)
    assert "quick|all|bench" in caught.value.remedy


def stage(name, code):
    return stages.Stage(name, (sys.executable, "-c", f"raise SystemExit({code})"), "mend it")


def test_checks_stop_at_the_first_red(monkeypatch, capsys):
    monkeypatch.setitem(stages.STAGES, "quick", (stage("first", 0), stage("second", 4), stage("third", 0)))
    assert stages.check("quick") == 4
    assert "RED at 'second'" in (heard := capsys.readouterr().err)
    assert "third" not in heard


def test_green_checks_end_with_the_seconds_of_each(monkeypatch, capsys):
    monkeypatch.setitem(stages.STAGES, "quick", (stage("first", 0), stage("second", 0)))
    assert stages.check("quick") == 0
    assert "green, 2 stages" in capsys.readouterr().err


def test_all_checks_contain_the_quick_ones():
    quick, everything = (set(stages.STAGES[name]) for name in ("quick", "all"))
    assert quick - {stages.QUICK_TESTS} <= everything


def test_typefaces_carry_their_licences():
    files = typefaces.wanted((ROOT / "web/package.json").read_text("utf-8"))
    assert all(any("LICENSE" in name for name in names) for names in files.values())
    assert typefaces.laid_name("@some/noto-sans", "LICENSE_FONT") == "noto-sans-LICENSE.txt"


def test_a_wheel_asks_for_no_set_up_tools():
    assert wheel_needs.needs("# run\nclick>=8  # door\nnodejs-wheel>=24\n\nrich>=14\n") == ["click>=8", "rich>=14"]
