"""Reading and writing what people name on the command line."""

import os
import sys
from pathlib import Path

import click

from baskwell.science.errors import KeeperError

LARGEST = 32 * 2**20
STREAM = "-"


def read_bytes(name: str, *, largest: int = LARGEST) -> bytes:
    """The content of a file, or of standard input for ``-``; at most ``largest`` bytes and one more.

    Raises KeeperError with a sentence where it cannot be read.
    """
    try:
        if name == STREAM:
            return sys.stdin.buffer.read(largest + 1)
        with Path(name).open("rb") as handle:
            return handle.read(largest + 1)
    except OSError as error:
        raise KeeperError(_why_unreadable(name, error)) from error


def write_text(name: str, text: str) -> None:
    """Write a file whole or not at all; ``-`` is standard output.

    Raises KeeperError with a sentence where it cannot be written.
    """
    if name == STREAM:
        click.echo(text.encode(), nl=False)
        return
    target = Path(name)
    try:
        _replace(target, text)
    except OSError as error:
        raise KeeperError(_why_unwritable(target, error)) from error


def _replace(target: Path, text: str) -> None:
    import tempfile

    if target.is_dir():
        raise IsADirectoryError
    if target.exists() and not target.is_file():
        target.write_text(text, encoding="utf-8")
        return
    handle, scratch = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(text)
        Path(scratch).chmod(target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask())
        Path(scratch).replace(target)
    except OSError:
        Path(scratch).unlink(missing_ok=True)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _why_unreadable(name: str, error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return f"The file {name} was not found. Check the name and the folder."
    if isinstance(error, IsADirectoryError):
        return f"{name} is a folder. Name the file inside it."
    if isinstance(error, PermissionError):
        return f"The file {name} may not be read by you. Change its permissions or copy it."
    return f"The file {name} could not be read: {error.strerror or error}."


def _why_unwritable(target: Path, error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return f"The folder {target.parent} was not found. Make it first, or name another."
    if isinstance(error, IsADirectoryError):
        return f"{target} is a folder. Name a file inside it."
    return f"{target} could not be written: {error.strerror or error}. Nothing was changed."
