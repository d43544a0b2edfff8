"""Guarantee keys: what each says of the true content, and what is refused."""

import pytest

from baskwell.evidence import load_evidence
from baskwell.science.errors import KeeperError
from baskwell.science.history.label.guarantees import Guarantee, guarantee_keys, read_guarantees

EVIDENCE = load_evidence()


def one(key: str, value: float) -> Guarantee:
    """A single guarantee."""
    return read_guarantees({key: value}, EVIDENCE, "pellet")[0]


def test_a_printed_minimum_lies_below_the_likely_content() -> None:
    """Protein is 1.5 +/- 2.0 points above its guarantee on average (Hill et al. 2009, abstract)."""
    protein = one("crude_protein_min_pct", 24.0)
    assert [protein.likely, protein.spread] == pytest.approx([25.5, 2.0])
    assert protein.limits[0] == pytest.approx(22.2)
    assert protein.limits[1] == float("inf")


def test_a_printed_maximum_lies_above_the_likely_content() -> None:
    """Fibre is 0.7 points below its guarantee on average (Hill et al. 2009, abstract)."""
    fibre = one("crude_fibre_max_pct", 6.0)
    assert fibre.likely == pytest.approx(5.3)
    assert fibre.limits == pytest.approx((0.0, 7.4))


def test_a_value_is_bounded_on_both_sides() -> None:
    """A European analytical constituent has a tolerance either way (12.5 % of protein, from memory)."""
    assert one("crude_protein_pct", 20.0).limits == pytest.approx((17.5, 22.5))


def test_units_become_those_of_the_food_tables() -> None:
    """1 % calcium = 1,000 mg per 100 g; 10,000 IU/kg vitamin A = 300 ug retinol per 100 g (foods README)."""
    assert one("calcium_pct", 1.0).likely == pytest.approx(1000.0)
    assert one("vitamin_a_min_iu_per_kg", 10_000.0).row.per_100_g * 10_000 == pytest.approx(300.0)


@pytest.mark.parametrize(
    ("alias", "key"),
    [
        ("crude_fiber_max_pct", "crude_fibre_max_pct"),
        ("crude_oils_and_fats_pct", "crude_fat_pct"),
        ("crude_ash_pct", "ash_pct"),
        ("protein_min_pct", "crude_protein_min_pct"),
        ("vitamin_d_min_iu_per_kg", "vitamin_d3_min_iu_per_kg"),
    ],
)
def test_other_names_mean_the_same(alias: str, key: str) -> None:
    """Both spellings and both continents."""
    keys = guarantee_keys(EVIDENCE)
    assert keys[alias] == keys[key]


def test_every_archetype_column_is_a_key() -> None:
    """The guarantees of ``foods/labels.csv`` are all understood."""
    columns = [
        name
        for name in type(EVIDENCE.labels["L01"]).__dataclass_fields__
        if name.endswith(("_pct", "_per_kg"))
    ]
    assert set(columns) <= guarantee_keys(EVIDENCE).keys()


@pytest.mark.parametrize(
    ("guaranteed", "words"),
    [
        ({"crude_protien_min_pct": 24.0}, 'Did you mean "crude_protein_min_pct"'),
        ({"qqqq": 1.0}, "Write it like"),
        ({"crude_protein_min_pct": 240.0}, "not between 0 and 100"),
        ({"crude_protein_min_pct": -1.0}, "not between 0 and 100"),
        ({"crude_protein_min_pct": float("nan")}, "not between 0 and 100"),
        ({"calcium_min_pct": 2.0, "calcium_max_pct": 1.0}, "Perhaps they are swapped"),
    ],
)
def test_what_cannot_be_is_refused_with_what_to_do(guaranteed: dict[str, float], words: str) -> None:
    """The message names the label and the value."""
    with pytest.raises(KeeperError, match=words) as refusal:
        read_guarantees(guaranteed, EVIDENCE, "pellet")
    assert 'Label "pellet"' in str(refusal.value)
