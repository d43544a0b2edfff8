"""`baskwell dose`: the classic overdose, a recipe, what is asked, and exit codes."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baskwell.cli import main

TURTLE = """
[animal]
taxon = "terrapene_ornata"
mass_g = 400

[[history.diet]]
food = "earthworm_nightcrawler"

[[history.diet]]
food = "dandelion_greens"

[pantry]
products = [{ agent = "vitamin_a", strength = "10000 IU per capsule" }]
"""
PYTHON = """
[animal]
taxon = "python_regius"
mass_g = 1500

[[history.diet]]
food = "mouse_adult"
"""
DOSED = (
    TURTLE
    + """
[[days.doses]]
at = 2026-03-15T10:00:00
agent = "vitamin_a"
route = "oral"
amount_iu = 10000
"""
)
QUICK = ("--draws", "300")


def run(*arguments: str, stdin: str = TURTLE) -> Result:
    """One command in this process; the case comes from a pipe."""
    return CliRunner().invoke(main, ("dose", "-", *arguments, *QUICK), input=stdin)


def test_a_whole_human_capsule_is_refused_with_the_arithmetic() -> None:
    """10,000 IU in 400 g, worked example W15; exit code 1, in eighty columns."""
    result = run("vitamin_a", "--want", "1 capsule")
    assert result.exit_code == 1
    assert "Not to be given." in result.stdout
    assert "10,000 IU retinol for 0.392 kg" in result.stdout
    assert max(len(line) for line in result.stdout.splitlines()) <= 80


def test_a_recipe_is_told_step_by_step() -> None:
    """The capsule of the pantry, diluted; exit code 0."""
    result = run("vitamin_a")
    assert result.exit_code == 0
    assert "May be given, measured like this." in result.stdout
    assert "fill up with plain vegetable oil" in " ".join(result.stdout.split())
    assert "no prescription" in result.stdout


def test_the_full_text_holds_every_limit_and_every_conflict() -> None:
    """What is published is shown, not averaged."""
    told = " ".join(run("vitamin_a", "--full").stdout.split())
    assert "Every limit, the strictest first" in told
    assert "What is published, not averaged" in told
    assert "not to be used (TVP18" in told


def test_json_holds_the_recipe_and_the_limits() -> None:
    """Keys are the field names."""
    plan = json.loads(run("vitamin_a", "--json").stdout)
    assert plan["format"] == 1
    assert plan["verdict"] == "recipe"
    assert plan["recipe"]["made_up_to"] == 10
    assert plan["allowances"][0]["evidence_id"] == "va_daily_warn_other"
    assert plan["ledger"]["alarms"] == []


def test_the_ledger_alone_is_quiet_on_a_right_diet() -> None:
    """A python on mice: nothing to see, exit code 0."""
    result = run(stdin=PYTHON)
    assert result.exit_code == 0
    assert "Ask a veterinarian" not in result.stdout
    assert "not counted towards any limit" in " ".join(result.stdout.split())


def test_a_dose_above_a_block_is_told_first() -> None:
    """The capsule was given yesterday: exit code 1."""
    result = run("--on", "2026-03-16", stdin=DOSED)
    assert result.exit_code == 1
    assert result.stdout.startswith("Ask a veterinarian now")
    assert "va_single_block_turtle" in " ".join(result.stdout.split())
    told = run("--on", "2026-03-16", "--json", stdin=DOSED)
    assert told.exit_code == 1
    assert len(json.loads(told.stdout)["alarms"]) == 2


def test_a_missing_strength_is_asked_for() -> None:
    """No vitamin D3 in the pantry: exit code 1 and a question."""
    result = run("vitamin_d3")
    assert result.exit_code == 1
    assert "What is printed on it" in " ".join(result.stdout.split())


def test_an_injection_without_a_name_is_refused_and_with_one_recorded() -> None:
    """--ordered-by names the veterinarian."""
    wish = ("vitamin_a", "--route", "im", "--want", "100 IU")
    assert run(*wish).exit_code == 1
    named = run(*wish, "--ordered-by", "Dr. Ines Falk")
    assert named.exit_code == 0
    assert "recorded as ordered by Dr. Ines Falk" in " ".join(named.stdout.split())


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("vitamn_a",), "Did you mean vitamin_a"),
        (("vitamin_a", "--route", "nose"), "The route 'nose' is not known"),
        (("vitamin_a", "--every", "0"), "--every"),
        (("vitamin_a", "--on", "yesterday"), "--on"),
    ],
)
def test_wrong_use_is_two_with_a_sentence(arguments: tuple[str, ...], words: str) -> None:
    """No traceback, nothing on standard output."""
    result = run(*arguments)
    assert result.exit_code == 2
    assert words in result.stderr
    assert "Traceback" not in result.stderr
    assert result.stdout == ""


def test_two_products_in_the_pantry_are_asked_about() -> None:
    """Which of the two is meant is not guessed."""
    two = TURTLE.replace("products = [", 'products = [{ agent = "vitamin_a", strength = "2000 IU/g" }, ')
    result = run("vitamin_a", stdin=two)
    assert result.exit_code == 2
    assert "Say which with --strength" in result.stderr


def test_a_missing_file_is_two(tmp_path: Path) -> None:
    """As with every other command."""
    result = CliRunner().invoke(main, ("dose", str(tmp_path / "none.toml")))
    assert result.exit_code == 2
    assert "was not found" in result.stderr
