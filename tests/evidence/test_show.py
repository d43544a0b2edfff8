"""A value with who says so."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.evidence.errors import UnknownKey
from baskwell.evidence.reader import Reader
from baskwell.evidence.show import show_value

EVIDENCE = load_evidence()
READER = Reader()
KEYS = [
    table.key(index)
    for table in READER.all_tables.values()
    if table.resource.schema.primary_key
    for index in range(0, len(table.rows), 40)
]


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("collard_greens.calcium_mg", ["232 mg", "measured", "USDA National Nutrient Database"]),
        ("collard_greens.oxalate_mg", ["this cell from: ifct2017", "Indian Food Composition Tables"]),
        ("earthworm_nightcrawler.retinol_ug", ["retinol_ug: not known"]),
        ("hot_pogona_vitticeps_alarm", ["42 C", "JUDGEMENT"]),
        ("links.hypovit_a.anorexia", ["p_recommended", "PETPLACE"]),
        ("terrapene_ornata.cool_side_C.1", ["low: 20 degC", "COMMON_PRACTICE"]),
        ("LEGLER60", ["Natural history of the ornate box"]),
        ("anorexia", ["not eating", "RVC2025"]),
        ("uvb_tube_t5_ho_6pct.uvi_mode", ["2.3 UVI", "MEMORY"]),
        ("no_uvb", ["Has it had a UVB lamp", "More rows: exposures.no_uvb"]),
        ("prior_links.hypovit_a.anorexia", ["p_mode: 0.5 probability"]),
        ("CS001", ["case_signs.CS001"]),
    ],
)
def test_shows_value_unit_grade_and_source(key: str, words: list[str]) -> None:
    """Rows of the tables, read in the files."""
    told = re.sub(r"\s+", " ", show_value(EVIDENCE, key))
    assert [word for word in words if word not in told] == []


@given(st.sampled_from(KEYS))
def test_every_row_can_be_shown_in_eighty_columns(key: str) -> None:
    """No key of any table fails, no line is wider than a terminal (long addresses apart)."""
    lines = show_value(EVIDENCE, key).splitlines()
    assert lines
    assert all(len(line) <= 80 for line in lines if " " in line.strip())


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("terapene_ornata", "terrapene_ornata"),
        ("collard_greens.calcium", "collard_greens.calcium_mg"),
        ("LEGLER06", "LEGLER60"),
    ],
)
def test_a_slip_is_answered_with_what_was_meant(slip: str, meant: str) -> None:
    """The nearest known key stands in the error."""
    with pytest.raises(UnknownKey) as caught:
        show_value(EVIDENCE, slip)
    assert meant in caught.value.nearest
