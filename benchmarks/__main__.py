"""Run every benchmark module's ``measure()`` and print one table: figure, target, ratio, yardsticks.

The yardstick is a fixed piece of numpy and Python work timed in the same run, so that figures from
machines of different speed can be laid side by side. Arguments choose modules by name.
"""

import importlib
import pkgutil
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np

from benchmarks.figure import Figure, seconds

NOT_BENCHMARKS = ("__main__", "figure")


def main(chosen: list[str]) -> int:
    """Measure and print. A missed target is marked, never an error: machines differ."""
    yardstick = seconds(_fixed_work)
    print(f"yardstick {yardstick * 1000:.0f} ms (fixed numpy and Python work on this machine)\n")
    print(f"{'figure':<58}{'measured':>11}{'target':>11}{'ratio':>8}{'yardsticks':>12}")
    missed = sum(_tell(figure, yardstick) for figure in _figures(chosen))
    print(f"\nratio = measured / target, at or below 1 is reached; {missed} missed")
    return 0


def _figures(chosen: list[str]) -> Iterator[Figure]:
    for name in module_names():
        if not chosen or name in chosen:
            measured: Iterable[Figure] = importlib.import_module(f"benchmarks.{name}").measure()
            yield from measured


def module_names() -> list[str]:
    """The benchmark modules beside this file."""
    found = pkgutil.iter_modules([str(Path(__file__).parent)])
    return sorted(module.name for module in found if module.name not in NOT_BENCHMARKS)


def _tell(figure: Figure, yardstick: float) -> bool:
    missed = figure.ratio > 1
    in_yardsticks = f"{figure.measured / yardstick:.2f}" if figure.unit == "s" else ""
    bound = ">=" if figure.at_least else "<="
    print(
        f"{figure.name:<58}{_told(figure.measured, figure.unit):>11}"
        f"{bound + ' ' + _told(figure.target, figure.unit):>11}{figure.ratio:>8.2f}{in_yardsticks:>12}"
        f"{'  missed' if missed else ''}",
        flush=True,
    )
    return missed


def _told(value: float, unit: str) -> str:
    if unit == "s":
        return f"{value:.2f} s" if value >= 1 else f"{value * 1000:.3g} ms"
    return f"{value:,.0f} {unit}" if value >= 10 else f"{value:.2f} {unit}"


def _fixed_work() -> float:
    rng = np.random.default_rng(1)
    matrix = rng.random((300, 300))
    total = float(np.linalg.solve(matrix + 300 * np.eye(300), matrix).sum())
    total += float(np.sort(rng.random(400_000))[::1000].sum())
    return total + sum((i * 7919) % 104729 for i in range(300_000))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
