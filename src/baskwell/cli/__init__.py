"""The command line: one command a file, each thin: read, call one function, show.

Slow imports happen inside the commands, so that ``baskwell --help`` answers at once.
"""

from baskwell.cli.main import main

__all__ = ["main"]
