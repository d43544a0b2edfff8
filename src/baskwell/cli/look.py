"""How output may look on a stream: colour, width, and whether it shows more than ASCII."""

import os
from typing import IO, Any

from baskwell.paper.plain import WIDTH, Style

LEAST_WIDTH = 40


def style_for(stream: IO[Any]) -> Style:
    """The style of a stream.

    Colour only on a terminal, never with NO_COLOR set or TERM=dumb. Eighty cells, fewer on a narrower
    terminal. Plain ASCII where the stream's encoding or a stated locale ("C", "POSIX") holds no more.
    """
    is_terminal = _is_terminal(stream)
    colour = is_terminal and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    return Style(colour=colour, ascii_only=_ascii_only(stream), width=_width() if is_terminal else WIDTH)


def _is_terminal(stream: IO[Any]) -> bool:
    try:
        return stream.isatty()
    except ValueError:
        return False


def _width() -> int:
    import shutil

    return max(LEAST_WIDTH, min(WIDTH, shutil.get_terminal_size((WIDTH, 24)).columns))


def _ascii_only(stream: IO[Any]) -> bool:
    encoding = (getattr(stream, "encoding", None) or "ascii").lower().replace("-", "").replace("_", "")
    if encoding not in ("utf8", "utf8sig", "utf16", "utf32", "cp65001"):
        return True
    stated = next((os.environ[name] for name in ("LC_ALL", "LC_CTYPE", "LANG") if os.environ.get(name)), "")
    return stated in ("C", "POSIX")
