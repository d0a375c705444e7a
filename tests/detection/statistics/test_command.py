"""`swabwright sample-size` and `swabwright growth`: sentences, JSON, examples in the help, refusals."""

import json

import pytest
from builders.console import example_in_help, printed
from click.testing import CliRunner

from swabwright.cli.main import main, swabwright
from swabwright.cli.sample_size import sample_size
from swabwright.errors import SwabwrightError
from swabwright.work.answers import answers_as_json, answers_as_text

COMMANDS = sorted(sample_size.commands)


def run(*arguments):
    return CliRunner().invoke(swabwright, list(arguments))


def example(name):
    return example_in_help(run("sample-size", name, "--help").output)


@pytest.mark.parametrize("name", COMMANDS)
def test_the_example_in_the_help_runs_as_it_stands(name):
    said = printed(example(name))
    assert said.strip().endswith(".")
    assert "Traceback" not in said


@pytest.mark.parametrize("name", COMMANDS)
def test_json_holds_the_same_sentences(name):
    answers = json.loads(printed(f"{example(name)} --json"))
    assert "\n".join(answer["sentence"] for answer in answers.values()) == printed(example(name)).strip()


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_says_what_it_is_for(name):
    options = [parameter for parameter in sample_size.commands[name].params if parameter.name != "help"]
    assert [option.name for option in options if not option.help] == []


@pytest.mark.parametrize("arguments", [["sample-size"], ["growth"]])
def test_the_help_of_the_group_and_of_growth_gives_an_example_that_runs(arguments):
    assert printed(example_in_help(run(*arguments, "--help").output))


def test_json_says_no_end_as_null():
    answer = json.loads(printed("swabwright sample-size most-probable-number --tubes 1 3 3 --json"))["answer"]
    assert (answer["value"], answer["interval"]["high"]) == (None, None)
    assert answer["sentence"].startswith("Every tube grew: more than")


def test_json_leaves_out_the_curve_of_a_posterior():
    told = printed("swabwright sample-size prevalence --detected 3 --samples 60 --json")
    assert set(json.loads(told)["posterior"]) == {"value", "median", "interval", "sentence"}


def test_a_default_that_is_a_figure_is_that_figure():
    by_default = printed("swabwright sample-size large --design-prevalence 0.05")
    assert by_default == printed("swabwright sample-size large --design-prevalence 0.05 --system-sensitivity 0.95")


@pytest.mark.parametrize(
    ("arguments", "names"),
    [
        ("large --design-prevalence 5", "--design-prevalence: 5 is not a share from 0 to 1; did you mean 0.05?"),
        (
            "finite --population 10 --design-prevalence 0.1 --samples 11 --calculation exact",
            "--samples: 11 is more than",
        ),
        (
            "finite --population 10 --design-prevalence 0.1 --unit-specificity 0.9 --calculation approximate",
            "--calculation: false positives or a cut-point are computed exactly only",
        ),
        (
            "risk-based --stratum a 1 1 --design-prevalence 0.1 --samples 3 --surveillance-proportion 1",
            "--samples: give samples or surveillance proportions, not both",
        ),
    ],
)
def test_a_wrong_argument_is_named(arguments, names):
    result = run("sample-size", *arguments.split())
    assert isinstance(result.exception, SwabwrightError)
    assert names in str(result.exception)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (
            "two-stage --groups 5 --group-design-prevalence 0.2 --units 5 --design-prevalence 0.2 --calculation exact",
            "one",
        ),
        (
            "risk-based --stratum a 1 1 --design-prevalence 0.1 --samples 3 --population 9 --population 9",
            "2 numbers for 1",
        ),
        (
            "freedom --prior-freedom 0.5 --round-sensitivity 0.5 --round-sensitivity 0.5 --moment after --wanted 0.9",
            "give one --round-sensitivity",
        ),
        ("pooled-prevalence --pools 5 9 1 --pools 6 9 1 --unit-sensitivity 0.9", "pools of one size only"),
        ("prevalence --detected 1 --samples 9 --unit-sensitivity 0.9 --validation 9 8 9 8", "give one"),
    ],
)
def test_options_that_do_not_go_together_are_told(arguments, says):
    result = run("sample-size", *arguments.split())
    assert result.exit_code == 2
    assert says in result.output


def test_a_refusal_ends_with_its_sentence_and_code_2(monkeypatch, capsys):
    monkeypatch.setattr("sys.argv", ["swabwright", "sample-size", "large", "--design-prevalence", "0"])
    with pytest.raises(SystemExit) as ended:
        main()
    assert ended.value.code == 2
    assert capsys.readouterr().err == "--design-prevalence: 0 must be above 0; nothing could ever be detected\n"


def test_a_small_population_by_strata_is_computed_with_its_sizes():
    strata = "--stratum drains 5 0.1 --stratum others 1 0.9 --design-prevalence 0.02 --samples 10 --samples 10"
    large = printed(f"swabwright sample-size risk-based {strata}")
    assert printed(f"swabwright sample-size risk-based {strata} --population 20 --population 180") != large


def test_a_cut_point_of_a_finite_population_is_kept():
    said = printed(
        "swabwright sample-size finite --population 80 --design-prevalence 0.2 --cut-point 1 --calculation exact"
    )
    assert "give more than 1 positives" in said


class Said:
    """An answer that is no dataclass of the statistics."""

    sentence = "Said."


def test_several_answers_are_one_sentence_a_line():
    assert answers_as_text(Said(), Said()) == "Said.\nSaid."
    assert json.loads(answers_as_json()) == {}
