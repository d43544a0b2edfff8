"""`baskwell ask FILE`: an interview in a terminal, answers kept in a copy."""

import datetime as dt
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baskwell.cli import main
from baskwell.cli.ask import chosen
from baskwell.evidence import load_evidence
from baskwell.science.case.model import Case
from baskwell.science.case.reader import parse_case
from baskwell.science.causes.ranking import Question
from baskwell.science.review import Review

FLINT = Path(__file__).parents[2] / "examples" / "harrow_mill" / "flint.toml"


def _copy(folder: Path) -> Path:
    case = folder / "flint.toml"
    case.write_bytes(FLINT.read_bytes())
    return case


def _ask(case: Path, typed: str, *more: str) -> Result:
    return CliRunner().invoke(main, ["ask", str(case), "--draws", "200", *more], input=typed)


def _read(path: Path) -> Case:
    return parse_case(path.read_bytes(), load_evidence(), today=dt.date.today())


def test_answers_go_to_a_copy_and_the_file_stays_as_it_was(tmp_path: Path) -> None:
    """The first answer taken is in the copy, which is a valid case file."""
    case = _copy(tmp_path)
    result = _ask(case, "1\nq\n")
    assert result.exit_code == 0
    assert case.read_bytes() == FLINT.read_bytes()
    assert _read(tmp_path / "flint.answered.toml") != _read(case)
    assert "1 answered" in result.stdout


def test_a_second_run_takes_a_name_that_is_free(tmp_path: Path) -> None:
    """Nothing answered before is written over."""
    case = _copy(tmp_path)
    _ask(case, "1\nq\n")
    _ask(case, "1\nq\n")
    assert (tmp_path / "flint.answered-2.toml").exists()


def test_save_names_the_copy(tmp_path: Path) -> None:
    """`--save FILE`."""
    result = _ask(_copy(tmp_path), "1\nq\n", "--save", str(tmp_path / "mine.toml"))
    assert result.exit_code == 0
    assert (tmp_path / "mine.toml").exists()


def test_not_knowing_writes_nothing(tmp_path: Path) -> None:
    """Enter alone leaves the case unknown."""
    result = _ask(_copy(tmp_path), "\n\nq\n")
    assert "Left as not known." in result.stdout
    assert "Nothing was answered, so nothing was written." in result.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["flint.toml"]


def test_back_takes_an_answer_out_of_the_copy(tmp_path: Path) -> None:
    """Undo reaches the file too."""
    case = _copy(tmp_path)
    _ask(case, "1\nb\nq\n")
    assert _read(tmp_path / "flint.answered.toml") == _read(case)


def test_the_end_of_input_keeps_the_answers(tmp_path: Path) -> None:
    """A closed terminal is a stop like another."""
    result = _ask(_copy(tmp_path), "1\n")
    assert result.exit_code == 0
    assert (tmp_path / "flint.answered.toml").exists()


def test_a_slip_of_the_hand_is_told_and_asked_again(tmp_path: Path) -> None:
    """What was typed is repeated, and what can be typed."""
    result = _ask(_copy(tmp_path), "99\nq\n")
    assert "Not one of the answers: 99." in result.stdout
    assert result.exit_code == 0


def test_standard_input_cannot_be_the_case() -> None:
    """It holds the answers."""
    result = CliRunner().invoke(main, ["ask", "-"])
    assert result.exit_code == 2
    assert "name the case file" in result.stderr


@pytest.mark.parametrize(
    ("line", "answer"),
    [
        ("1", "under a year"),
        ("OVER A YEAR", "over a year"),
        ("ov", "over a year"),
        ("4", None),
        ("0x1", None),
        ("", None),
    ],
)
def test_an_answer_may_be_its_number_its_words_or_their_start(
    sample_review: Review, line: str, answer: str | None
) -> None:
    """As people type; what fits several answers fits none."""
    question: Question = sample_review.ranking.questions[0]
    assert chosen(question, line) == answer


@pytest.mark.slow
def test_ctrl_c_is_130_and_keeps_the_answers(tmp_path: Path) -> None:
    """A real interrupt in a real process."""
    case = _copy(tmp_path)
    command = [str(Path(sys.executable).parent / "baskwell"), "ask", str(case), "--draws", "200"]
    process = subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdin is not None
    process.stdin.write("1\n")
    process.stdin.flush()
    answered = tmp_path / "flint.answered.toml"
    end = time.monotonic() + 60
    while not answered.exists() and time.monotonic() < end:
        time.sleep(0.1)
    os.kill(process.pid, signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert "kept in" in out
    assert "Traceback" not in err
