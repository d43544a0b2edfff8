"""The two pictures of uncertainty, as geometry: the 20-dot row and the interval bar.

Text and page draw the same numbers from here, so that they cannot disagree.
"""

import math
from dataclasses import dataclass

from baskwell.paper.words import twentieths
from baskwell.science.draws import Summary
from baskwell.science.history.finding import Finding, Wanted

DOTS = 20
STRETCH_FROM = 30.0
"""From this ratio of largest to smallest value on a linear axis would hide the small one."""


@dataclass(frozen=True)
class Dots:
    """A row of 20: ``full`` up to the low end of the interval, ``hatched`` from there to its high end.

    >>> Dots.of(Summary(0.72, 0.65, 0.8))
    Dots(full=13, hatched=3)
    >>> Dots.of(Summary(0.72, 0.65, 0.8)).empty
    4
    """

    full: int
    hatched: int

    @classmethod
    def of(cls, chance: Summary) -> "Dots":
        """The row of a probability and its 90 % interval."""
        low, high = twentieths(chance.low), twentieths(chance.high)
        return cls(low, max(0, high - low))

    @property
    def empty(self) -> int:
        """How many dots stay open."""
        return DOTS - self.full - self.hatched

    def drawn(self, full: str, hatched: str, empty: str) -> str:
        """The row written with three characters.

        >>> Dots(2, 1).drawn("#", "/", ".")
        '##/.................'
        """
        return full * self.full + hatched * self.hatched + empty * self.empty


@dataclass(frozen=True)
class Bar:
    """An interval on a line with the wanted range behind it; every place is a share of the line, 0 to 1.

    ``wanted_low`` is 0 or ``wanted_high`` is 1 where that side is open.
    """

    wanted_low: float
    wanted_high: float
    low: float
    median: float
    high: float
    stretched: bool

    @classmethod
    def of(cls, wanted: Wanted | None, got: Summary | None) -> "Bar | None":
        """The bar of a finding; None where there is nothing to compare."""
        if wanted is None or got is None or (wanted.low is None and wanted.high is None):
            return None
        axis = _Axis.holding(got, wanted)
        return cls(
            0.0 if wanted.low is None else axis.place(wanted.low),
            1.0 if wanted.high is None else axis.place(wanted.high),
            axis.place(got.low),
            axis.place(got.median),
            axis.place(got.high),
            axis.unit is not None,
        )

    def drawn(self, width: int, line: str, wanted: str, got: str, median: str) -> str:
        """The bar written with four characters, ``width`` cells long.

        >>> bar = Bar.of(Wanted(4.0, 8.0, "", ""), Summary(2.0, 1.0, 3.0))
        >>> bar.drawn(20, "-", ":", "=", "|") if bar else ""
        '-===|==-:::::::::::-'
        """
        cells = [line] * width
        self._fill(cells, self.wanted_low, self.wanted_high, wanted)
        self._fill(cells, self.low, self.high, got)
        cells[_cell(self.median, width)] = median
        return "".join(cells)

    @staticmethod
    def _fill(cells: list[str], low: float, high: float, mark: str) -> None:
        first, last = _cell(low, len(cells)), _cell(high, len(cells))
        cells[first : last + 1] = [mark] * (last - first + 1)


def bar_of(finding: Finding) -> Bar | None:
    """The bar of a finding, None where nothing was got or wanted."""
    return Bar.of(finding.wanted, finding.got)


def _cell(place: float, width: int) -> int:
    return min(width - 1, max(0, int(place * width)))


@dataclass(frozen=True)
class _Axis:
    """Places on a line; ``unit`` None = linear, else stretched by the inverse hyperbolic sine."""

    first: float
    last: float
    unit: float | None

    @classmethod
    def holding(cls, got: Summary, wanted: Wanted) -> "_Axis":
        values = [
            got.low,
            got.median,
            got.high,
            *(end for end in (wanted.low, wanted.high) if end is not None),
        ]
        low, high = min(values), max(values)
        unit = _stretch_unit(values)
        if unit is not None:
            low, high = math.asinh(low / unit), math.asinh(high / unit)
        margin = (high - low or abs(high) or 1.0) * 0.12
        return cls(max(0.0, low - margin) if low >= 0 else low - margin, high + margin, unit)

    def place(self, value: float) -> float:
        if self.unit is not None:
            value = math.asinh(value / self.unit)
        return min(1.0, max(0.0, (value - self.first) / (self.last - self.first)))


def _stretch_unit(values: list[float]) -> float | None:
    if min(values) < 0:
        return None
    above_zero = [value for value in values if value > 0]
    if not above_zero or max(above_zero) / min(above_zero) < STRETCH_FROM:
        return None
    return min(above_zero)
