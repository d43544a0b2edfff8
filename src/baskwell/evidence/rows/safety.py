"""Rows of the safety tables: one frozen class a table, one attribute a column."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Limit:
    """A cautious default, warning, alarm or block; stands above every other table."""

    limit_id: str
    topic: str
    taxa: tuple[str, ...]
    covers: str
    uv_zone: int | None
    kind: Literal[
        "alarm", "assume", "block", "default", "default_high", "default_low", "never", "none", "rule", "warn"
    ]
    value: float | None
    value_text: str
    unit: str
    basis: str
    applies_to: str
    reason: str
    source: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Correction:
    """A cell that was corrected after an independent re-reading."""

    file: str
    row_key: str
    column: str
    from_: str
    to: str
    reason: str
    source: str
