"""What a benchmark gives back: one measured figure with the target it must reach."""

import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True)
class Figure:
    """One figure. ``unit`` "s" is time and is also told in yardsticks; "MB" and "times" are not.

    ``at_least`` says that larger is better (a speed-up), else the target is a ceiling.
    """

    name: str
    measured: float
    target: float
    unit: str = "s"
    at_least: bool = False

    @property
    def ratio(self) -> float:
        """Measured over target, turned round for ``at_least``: at or below 1 is reached."""
        return self.target / self.measured if self.at_least else self.measured / self.target


def seconds(task: Callable[[], object], repeats: int = 5) -> float:
    """The median wall time of a task after one run that is thrown away (compilation, caches)."""
    task()
    return median(_timed(task) for _ in range(repeats))


def _timed(task: Callable[[], object]) -> float:
    start = time.perf_counter()
    task()
    return time.perf_counter() - start
