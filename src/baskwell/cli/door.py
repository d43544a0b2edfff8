"""What happens at the door: exit codes, errors as sentences, a closed pipe, Ctrl-C."""

import os
import sys
from collections.abc import Callable
from typing import Any, TypeVar

import click

from baskwell import __version__
from baskwell.cli.look import style_for
from baskwell.science.errors import KeeperError

FAULT = 70
STOPPED = 130
PIPE_CLOSED = 141
_DEBUG = "baskwell.debug"
F = TypeVar("F", bound=Callable[..., Any])


class Unusable(click.ClickException):
    """What a person can put right, told in sentences on stderr; exit code 2."""

    exit_code = 2

    def show(self, file: Any = None) -> None:
        """Print the sentences on stderr, in characters that it can show."""
        style = style_for(sys.stderr)
        for number, line in enumerate(self.message.splitlines() or [""]):
            click.echo(style.told(f"{'' if number else 'baskwell: '}{line}"), err=True, file=file)


class Door(click.Group):
    """A group that turns every way a command can end into an exit code and plain words."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the subcommand; nothing but an exit or a click exception leaves here."""
        try:
            result = super().invoke(ctx)
            sys.stdout.flush()
            return result
        except (click.ClickException, click.exceptions.Exit):
            raise
        except KeeperError as error:
            raise Unusable(str(error)) from error
        except BrokenPipeError:
            _forget_stdout()
            ctx.exit(PIPE_CLOSED)
        except (KeyboardInterrupt, click.Abort):
            click.echo("\nStopped.", err=True)
            ctx.exit(STOPPED)
        except Exception as error:
            _tell_fault(ctx, error)
            ctx.exit(FAULT)


def debug_option(command: F) -> F:
    """Give a command ``--debug``: the traceback of a fault is shown instead of one line."""
    return click.option(
        "--debug",
        is_flag=True,
        expose_value=False,
        callback=_remember_debug,
        help="Show the traceback of a fault of the program.",
    )(command)


def _remember_debug(ctx: click.Context, _param: click.Parameter, value: bool) -> None:
    if value:
        ctx.find_root().meta[_DEBUG] = True


def _tell_fault(ctx: click.Context, error: Exception) -> None:
    if ctx.find_root().meta.get(_DEBUG):
        import traceback

        click.echo("".join(traceback.format_exception(error)), err=True)
        return
    told = style_for(sys.stderr).told(f"{type(error).__name__}: {error}"[:400])
    click.echo(
        f"baskwell: a fault of the program, not of your file ({told}).\n"
        f"Please report it with the version ({__version__}) and the output of the same command with "
        "--debug. Leave out names of people.",
        err=True,
    )


def _forget_stdout() -> None:
    """Let the interpreter flush into nothing when the reader of the pipe has gone."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        return
