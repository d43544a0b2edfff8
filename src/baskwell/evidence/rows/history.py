"""Rows of the tables that read what people say about the past: one frozen class a table."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AmountWord:
    """The share of what was offered that a word stands for; None where a word gives no share.

    ``low``, ``mode`` and ``high`` lie in [0, 1]; a mode of None with limits is a flat range.
    """

    word: str
    low: float | None
    mode: float | None
    high: float | None
    also_read_as: tuple[str, ...]
    unit: str
    note: str
    grade: str
    source: str
