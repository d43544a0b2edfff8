"""How much of the evidence is measured, and how much judged."""

import pytest

from baskwell.evidence.exactness import CLASSES, exactness, exactness_text

REPORT = {table.table: table for table in exactness()}


@pytest.mark.parametrize("name", sorted(REPORT))
def test_the_shares_of_a_table_make_one(name: str) -> None:
    """Each row has one class."""
    assert sum(REPORT[name].share(kind) for kind in CLASSES) == pytest.approx(1.0)


def test_the_shares_agree_with_what_the_readmes_say() -> None:
    """Counted in the files: 8 links have the basis ``series``; 188 foods are of USDA, 5 of IFCT (README)."""
    assert REPORT["clinical_links"].counts["measured"] == 8
    assert REPORT["foods_foods"].counts["measured"] == 188 + 5


def test_limits_are_mostly_judgement() -> None:
    """Safety README: nearly all limits are judgement, and say so."""
    assert REPORT["safety_limits"].share("judgement") > 0.9


def test_the_text_has_a_line_a_table() -> None:
    """Header and one line for each table, none wider than 100 columns."""
    lines = exactness_text(tuple(REPORT.values())).splitlines()
    assert len(lines) == len(REPORT) + 1
    assert max(map(len, lines)) <= 100
