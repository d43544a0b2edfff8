"""`baskwell label`, `evidence` and `check-cases`."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baskwell.cli import main
from baskwell.evidence.check.problem import Problem

PELLET = (
    "Ingredients: ground maize, fish meal, soya meal, salt.\nGuaranteed analysis: crude protein (min) 24 %"
)
ANIMALS = Path(__file__).parents[2] / "examples" / "harrow_mill"


def run(*arguments: str, stdin: str = "") -> Result:
    """One command, in this process."""
    return CliRunner().invoke(main, arguments, input=stdin)


def test_a_label_is_read_from_a_pipe() -> None:
    """Every ingredient gets a share, the feed its protein."""
    result = run("label", "-", stdin=PELLET)
    assert result.exit_code == 0
    assert "ground maize: " in result.stdout
    assert "crude protein: " in result.stdout
    assert max(len(line) for line in result.stdout.splitlines()) <= 80


def test_a_label_as_json_holds_the_same() -> None:
    """Shares add to about one."""
    told = json.loads(run("label", "-", "--json", stdin=PELLET).stdout)
    assert sum(part["share"]["median"] for part in told["ingredients"]) == pytest.approx(1.0, abs=0.1)


def test_what_is_no_label_is_two() -> None:
    """With what a label looks like."""
    result = run("label", "-", stdin="hello")
    assert result.exit_code == 2
    assert "Ingredients:" in result.stderr


def test_the_shipped_evidence_is_in_order() -> None:
    """Zero, and one line."""
    result = run("evidence", "check")
    assert (result.exit_code, result.stdout) == (0, "The evidence is in order.\n")


def test_problems_in_the_evidence_are_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each in a line of its own, counted at the end."""
    found = Problem(
        "unit", "foods/foods.csv", 44, "carrot", "calcium_mg", "9", "has no unit", "Write the unit."
    )
    monkeypatch.setattr("baskwell.evidence.check.check_evidence", lambda: (found,))
    result = run("evidence", "check")
    assert result.exit_code == 1
    assert "foods/foods.csv" in result.stdout
    assert result.stdout.endswith("1 problem found in the evidence.\n")


def test_a_value_is_shown_with_who_says_so() -> None:
    """Unit, grade, source."""
    result = run("evidence", "show", "collard_greens.calcium_mg")
    assert result.exit_code == 0
    assert "mg" in result.stdout
    assert "said by: " in result.stdout


def test_an_unknown_key_is_two_with_the_nearest() -> None:
    """A slip of one letter."""
    result = run("evidence", "show", "hot_terrapene_ornata_lo")
    assert result.exit_code == 2
    assert "hot_terrapene_ornata_low" in result.stderr


def _cases(folder: Path, answers: str) -> str:
    (folder / "toml").mkdir()
    (folder / "toml" / "flint.toml").write_bytes((ANIMALS / "flint.toml").read_bytes())
    head = "case_id,set,true_condition_ids,accept_ids,husbandry_fault,vet_now,note\n"
    (folder / "answers.csv").write_text(head + answers, encoding="utf-8")
    return str(folder)


def test_cases_are_counted_by_set(tmp_path: Path) -> None:
    """The key names the true condition; one case of an invented animal, so one counted."""
    folder = _cases(tmp_path, "flint,headline,dysecdysis_primary,,dry_gecko,n,invented\n")
    report = json.loads(run("check-cases", folder, "--json").stdout)
    assert report["headline"]["n"] == 1
    assert set(report["headline"]) >= {"top1", "top3", "top5", "mean_log_gain"}
    assert len(report["cases"]) == 1
    text = run("check-cases", folder).stdout
    assert "headline" in text
    assert "see a vet now" in text


def test_a_set_that_is_not_for_ranking_is_left_out(tmp_path: Path) -> None:
    """Its cases are not even read."""
    folder = _cases(tmp_path, "gone,not_for_ranking,dysecdysis_primary,,,n,\n")
    report = json.loads(run("check-cases", folder, "--json").stdout)
    assert report["headline"]["n"] == 0


def test_a_folder_without_a_key_is_two(tmp_path: Path) -> None:
    """The file that is missing is named."""
    result = run("check-cases", str(tmp_path))
    assert result.exit_code == 2
    assert "answers.csv" in result.stderr


def test_a_key_without_a_column_is_two(tmp_path: Path) -> None:
    """And which column."""
    (tmp_path / "answers.csv").write_text("case_id,set\n", encoding="utf-8")
    result = run("check-cases", str(tmp_path))
    assert result.exit_code == 2
    assert "true_condition_ids" in result.stderr
