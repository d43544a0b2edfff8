"""Every way a command can end: exit code and words."""

import errno

import click
import pytest
from click.testing import CliRunner, Result

from baskwell.cli.door import Door, debug_option
from baskwell.science.errors import KeeperError


def _run(error: BaseException | None, *arguments: str) -> Result:
    @click.group(cls=Door)
    @debug_option
    def main() -> None:
        """A door."""

    @main.command()
    @debug_option
    def work() -> None:
        """Ends as it is told."""
        if error is not None:
            raise error
        click.echo("done")

    return CliRunner().invoke(main, arguments or ("work",))


def test_done_is_zero() -> None:
    """Nothing wrong, nothing on stderr."""
    result = _run(None)
    assert (result.exit_code, result.stdout, result.stderr) == (0, "done\n", "")


def test_what_a_keeper_can_mend_is_two_and_a_sentence() -> None:
    """No traceback, no exception name."""
    result = _run(KeeperError("Line 3, animal.mass_g: -4 is below 0.1."))
    assert result.exit_code == 2
    assert result.stderr == "baskwell: Line 3, animal.mass_g: -4 is below 0.1.\n"


def test_wrong_use_is_two() -> None:
    """As every command line has it."""
    assert _run(None, "work", "--no-such-option").exit_code == 2
    assert _run(None, "no-such-command").exit_code == 2


def test_a_fault_of_the_program_is_told_in_short_with_how_to_report() -> None:
    """Neither blames the file nor floods the terminal."""
    result = _run(ZeroDivisionError("float division by zero"))
    assert result.exit_code == 70
    assert "a fault of the program" in result.stderr
    assert "Please report it" in result.stderr
    assert "Traceback" not in result.stderr


@pytest.mark.parametrize("arguments", [("--debug", "work"), ("work", "--debug")])
def test_debug_shows_the_traceback_wherever_it_is_written(arguments: tuple[str, ...]) -> None:
    """Before or after the subcommand."""
    result = _run(ZeroDivisionError("float division by zero"), *arguments)
    assert result.exit_code == 70
    assert "Traceback" in result.stderr


@pytest.mark.parametrize("stop", [KeyboardInterrupt(), click.Abort()])
def test_ctrl_c_is_130(stop: BaseException) -> None:
    """128 + SIGINT, as a shell counts."""
    result = _run(stop)
    assert result.exit_code == 130
    assert "Traceback" not in result.stderr


def test_a_reader_that_went_away_is_141_and_silent() -> None:
    """128 + SIGPIPE: `baskwell review FILE | head` is no error of anyone."""
    result = _run(BrokenPipeError(errno.EPIPE, "Broken pipe"))
    assert (result.exit_code, result.stderr) == (141, "")
