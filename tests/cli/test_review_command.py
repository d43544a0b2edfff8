"""`baskwell review FILE` as a shell user meets it."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baskwell.cli import main

ANIMALS = Path(__file__).parents[2] / "examples" / "harrow_mill"
TEASEL = str(ANIMALS / "teasel.toml")
QUICK = ("--draws", "200")
SHELL = {**os.environ, "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8", "PYTHONUTF8": "1"}


def run(*arguments: str, stdin: str | bytes = "") -> Result:
    """One command, in this process."""
    return CliRunner().invoke(main, arguments, input=stdin)


def shell(line: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """One line for a real shell; ``baskwell`` is the command of this environment."""
    path = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    return subprocess.run(
        ["bash", "-c", f"set -o pipefail; {line}"],
        env={**SHELL, "PATH": path, **environment},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.fixture(scope="module")
def told() -> Result:
    """One review as text, made once."""
    return run("review", TEASEL, *QUICK)


def test_a_review_is_told_on_stdout_and_ends_in_zero(told: Result) -> None:
    """Nothing but the review on stdout."""
    assert told.exit_code == 0
    assert told.stdout.startswith("Teasel")
    assert "Why" in told.stdout


def test_no_line_of_a_real_review_is_over_80_cells(told: Result) -> None:
    """Whatever the evidence words are."""
    assert max(len(line) for line in told.stdout.splitlines()) <= 80


def test_the_same_seed_gives_the_same_review_and_another_seed_another(told: Result) -> None:
    """What is reported can be repeated."""
    assert run("review", TEASEL, *QUICK).stdout == told.stdout
    assert run("review", TEASEL, *QUICK, "--seed", "2").stdout != told.stdout


def test_a_case_may_come_from_a_pipe(told: Result) -> None:
    """`-` reads standard input."""
    result = run("review", "-", *QUICK, stdin=Path(TEASEL).read_bytes())
    assert result.stdout == told.stdout


def test_json_is_one_object_without_nan() -> None:
    """A strict reader takes it."""
    result = run("review", TEASEL, *QUICK, "--json")

    def refuse(word: str) -> float:
        raise AssertionError(word)

    review = json.loads(result.stdout, parse_constant=refuse)
    assert review["format"] == 1
    assert review["who"].startswith("Teasel")
    assert review["n_draws"] == 200


def test_html_is_written_to_a_file_and_said_on_stderr(tmp_path: Path) -> None:
    """Stdout stays free for a pipe."""
    page = tmp_path / "teasel.html"
    result = run("review", TEASEL, *QUICK, "--html", str(page))
    assert (result.exit_code, result.stdout) == (0, "")
    assert f"Wrote {page}" in result.stderr
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")


def test_html_may_go_to_stdout() -> None:
    """`--html -`."""
    assert run("review", TEASEL, *QUICK, "--html", "-").stdout.startswith("<!doctype html>")


def test_without_tests_there_is_no_second_pass(told: Result) -> None:
    """`--no-tests` ranks from history and examination alone."""
    assert "once the test results are counted" in told.stdout
    without = run("review", TEASEL, *QUICK, "--no-tests").stdout
    assert "once the test results are counted" not in without


def test_a_full_review_names_its_sources() -> None:
    """Who says so, in citations."""
    full = run("review", TEASEL, *QUICK, "--full").stdout
    assert "Who says so: " in full
    assert max(len(line) for line in full.splitlines()) <= 80


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("animal = {", "line 1"),
        ('[animal]\ntaxon = "terrapene_carolinna"', "terrapene_carolina"),
        ('[animal]\ntaxon = "terrapene_carolina"\nmass_g = -4', "mass_g"),
        ("", "taxon"),
    ],
)
def test_a_wrong_file_is_two_with_sentences_and_nothing_on_stdout(
    tmp_path: Path, content: str, words: str
) -> None:
    """Where it is wrong and what would do; never a traceback."""
    case = tmp_path / "case.toml"
    case.write_text(content, encoding="utf-8")
    result = run("review", str(case))
    assert (result.exit_code, result.stdout) == (2, "")
    assert words.lower() in result.stderr.lower()
    assert "Traceback" not in result.stderr


def test_a_missing_file_and_a_folder_are_two(tmp_path: Path) -> None:
    """Common slips."""
    assert run("review", str(tmp_path / "none.toml")).exit_code == 2
    assert run("review", str(tmp_path)).exit_code == 2


def test_bytes_that_are_no_text_are_two() -> None:
    """A photograph instead of a case file."""
    result = run("review", "-", stdin=b"\xff\xd8\xff\xe0" + bytes(range(256)))
    assert result.exit_code == 2
    assert "Traceback" not in result.stderr


def test_a_climate_log_elsewhere_is_not_read(tmp_path: Path) -> None:
    """A case file from a stranger may not reach into other folders; the review goes on without."""
    case = tmp_path / "case.toml"
    case.write_text(
        '[animal]\ntaxon = "terrapene_carolina"\n[history.surroundings]\nclimate_log = "../../etc/passwd"\n',
        encoding="utf-8",
    )
    result = run("review", str(case), *QUICK)
    assert result.exit_code == 0
    assert "beside the case file" in result.stderr


def test_a_missing_climate_log_is_noted_and_the_review_goes_on(tmp_path: Path) -> None:
    """The rest of the case is worth reviewing."""
    case = tmp_path / "case.toml"
    case.write_text(
        '[animal]\ntaxon = "terrapene_carolina"\n[history.surroundings]\nclimate_log = "tub4.csv"\n',
        encoding="utf-8",
    )
    result = run("review", str(case), *QUICK)
    assert result.exit_code == 0
    assert "goes on without this climate log" in result.stderr


def test_help_loads_nothing_that_computes() -> None:
    """`--help` answers at once: numpy, scipy and numba stay on the shelf."""
    code = "import sys; from baskwell.cli import main; main(['--help'], standalone_mode=False); " + (
        "print([m for m in ('numpy', 'scipy', 'numba', 'jinja2', 'openpyxl') if m in sys.modules])"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert told.splitlines()[-1] == "[]"


def test_version_is_told() -> None:
    """For reports."""
    assert run("--version").stdout.startswith("baskwell, version ")


@pytest.mark.slow
def test_a_closed_pipe_is_silent() -> None:
    """`baskwell review FILE | head -1` prints one line and no complaint."""
    result = shell(f"baskwell review '{TEASEL}' --draws 200 --full | head -1")
    assert result.stdout.startswith("Teasel")
    assert result.stderr == ""


@pytest.mark.slow
def test_a_c_locale_gets_ascii() -> None:
    """An old terminal shows every figure."""
    result = shell(f"baskwell review '{TEASEL}' --draws 200", LC_ALL="C", PYTHONUTF8="0")
    assert result.returncode == 0
    assert result.stdout.isascii()
    assert "###" in result.stdout


@pytest.mark.slow
def test_json_goes_through_a_pipe_in_any_locale() -> None:
    """JSON is UTF-8 whatever the terminal is."""
    result = shell(
        f"baskwell review '{TEASEL}' --draws 200 --json | python -m json.tool >/dev/null", LC_ALL="C"
    )
    assert (result.returncode, result.stderr) == (0, "")
