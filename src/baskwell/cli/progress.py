"""One line of progress on stderr, only for people and only where a task takes over a second."""

import time
from collections.abc import Callable
from typing import IO

PATIENCE_S = 1.0
_WIDTH = 60


class Progress:
    """Call it with a stage and a share from 0 to 1; use it as a context to clear the line after.

    Nothing is shown unless ``stream`` is a terminal and ``PATIENCE_S`` seconds have gone by.
    """

    def __init__(self, stream: IO[str], clock: Callable[[], float] = time.monotonic) -> None:
        self._stream = stream
        self._clock = clock
        self._since = clock()
        self._shown = False

    def __call__(self, stage: str, share: float) -> None:
        """Show the stage and the per cent done."""
        if self._stream.isatty() and self._clock() - self._since >= PATIENCE_S:
            line = f"{stage}, {100 * min(1.0, max(0.0, share)):.0f} %"
            self._stream.write(f"\r{line[:_WIDTH]:<{_WIDTH}}")
            self._stream.flush()
            self._shown = True

    def __enter__(self) -> "Progress":
        return self

    def __exit__(self, *_: object) -> None:
        if self._shown:
            self._stream.write("\r" + " " * _WIDTH + "\r")
            self._stream.flush()
