"""A number that may be a range."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """A stated number (``low == high``) or range; an open end is None.

    >>> Span.exactly(395.0).middle
    395.0
    >>> Span(20.0, None).is_open
    True
    """

    low: float | None
    high: float | None

    @classmethod
    def exactly(cls, value: float) -> "Span":
        """The span of one stated number."""
        return cls(value, value)

    @property
    def is_open(self) -> bool:
        """Whether one end is unknown."""
        return self.low is None or self.high is None

    @property
    def middle(self) -> float:
        """The middle, or the one known end."""
        if self.low is None:
            return float(self.high or 0.0)
        return self.low if self.high is None else (self.low + self.high) / 2
