"""The result of reading a logger file: times, temperatures and humidities, place by place."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Seconds = NDArray[np.int64]
Readings = NDArray[np.float64]

SECONDS_PER_HOUR = 3600
SECONDS_PER_DAY = 86_400
GAP_IN_STEPS = 3
"""A pause longer than this many usual steps is a gap, not a slow logger."""


@dataclass(frozen=True)
class ClimateSeries:
    """What one probe recorded.

    ``zone`` is ``basking_surface``, ``warm_side`` or ``cool_side`` where the file names the place so,
    "" where it does not; ``label`` is the name in the file. ``times_s`` are wall-clock seconds since
    1970-01-01, strictly rising, shape ``(n,)``; ``temperature_c`` and ``relative_humidity_pct`` have
    the same shape, NaN where nothing was read (``relative_humidity_pct`` is all NaN where the probe
    has no hygrometer).
    """

    zone: str
    label: str
    times_s: Seconds = field(repr=False)
    temperature_c: Readings = field(repr=False)
    relative_humidity_pct: Readings = field(repr=False)

    @property
    def step_s(self) -> float:
        """The usual time between readings in s (their median), 0 with fewer than two readings."""
        return float(np.median(np.diff(self.times_s))) if self.times_s.size > 1 else 0.0

    @property
    def days(self) -> float:
        """Time from the first to the last reading, in days."""
        return float(self.times_s[-1] - self.times_s[0]) / SECONDS_PER_DAY if self.times_s.size else 0.0

    @property
    def gaps_s(self) -> Seconds:
        """Lengths in s of all pauses longer than three usual steps."""
        pauses = np.diff(self.times_s)
        return np.asarray(pauses[pauses > GAP_IN_STEPS * self.step_s])

    @property
    def coverage(self) -> float:
        """Share of the time from first to last reading that lies outside gaps, 0 to 1."""
        span = float(self.times_s[-1] - self.times_s[0]) if self.times_s.size else 0.0
        return 1.0 - float(self.gaps_s.sum()) / span if span else 0.0


@dataclass(frozen=True)
class ClimateLog:
    """A logger file read: its series, and in ``notes`` what was assumed, left out or averaged."""

    name: str
    series: tuple[ClimateSeries, ...]
    notes: tuple[str, ...] = ()
