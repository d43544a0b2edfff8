"""Published rules on room against worked examples of environment/checks.csv (C53-C60) and space.md."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baskwell.evidence import load_evidence
from baskwell.evidence.covers import cover_holds
from baskwell.evidence.rows.surroundings import SpaceRule
from baskwell.science.history.surroundings.space_rules import Need, apply_rules, middle_of

EVIDENCE = load_evidence()
RULES = EVIDENCE.surroundings.space_rules


def rules_for(taxon_id: str, setting: str = "indoor") -> list[SpaceRule]:
    """The rows that cover a species."""
    taxon = EVIDENCE.taxa[taxon_id]
    return [row for row in RULES if row.setting in ("any", setting) and cover_holds(row.covers, taxon)]


def need(
    taxon_id: str, kind: str, length_cm: float, rule: str, animals: int = 1, setting: str = "indoor"
) -> Need:
    """What one rule asks for one grown animal of this length."""
    asked = apply_rules(
        rules_for(taxon_id, setting), {kind: np.array([length_cm])}, np.array([np.inf]), animals, None
    )
    return next(one for one in asked if one.rule == rule)


@pytest.mark.parametrize(
    ("taxon_id", "kind", "length_cm", "rule", "animals", "expected_m2"),
    [
        pytest.param(
            "trachemys_scripta", "SCL", 18, "EU63_turtle", 1, 0.6, id="C53 EU63 table 10.1: 6 000 cm2"
        ),
        pytest.param(
            "trachemys_scripta", "SCL", 25, "EU63_turtle", 3, 1.4, id="C54 EU63: 10 000 + 2 x 2 000 cm2"
        ),
        pytest.param("python_regius", "TL", 120, "EU63_snake", 1, 0.25, id="C55 EU63 table 10.2 over 75 cm"),
        pytest.param(
            "pantherophis_guttatus", "TL", 120, "AT04_ground", 2, 0.9, id="C56 AT04: one or two of 120 cm"
        ),
        pytest.param("testudo_hermanni", "SCL", 20, "DE97_tortoise", 2, 1.28, id="C57 TH_THUER: 160 x 80 cm"),
        pytest.param("eublepharis_macularius", "SVL", 15, "LG_DE97", 2, 0.27, id="C58 LG_DE97: 60 x 45 cm"),
        pytest.param("pogona_vitticeps", "SVL", 20, "NSW13", 5, 0.7875, id="C59 NSW13: 0.375 x 2.1"),
        pytest.param("pogona_vitticeps", "SVL", 20, "NSW13", 2, 0.5625, id="C60 NSW13: 0.375 x 1.5"),
        pytest.param("testudo_graeca", "SCL", 20, "BARNARD96_land", 1, 1.0, id="space.md: 20 cm is 1.0 m2"),
        pytest.param(
            "trachemys_scripta", "SCL", 20, "BARNARD96_water", 1, 0.6, id="space.md: 20 cm is 0.6 m2"
        ),
        pytest.param(
            "trachemys_scripta",
            "SCL",
            25,
            "WTVS_turtle",
            1,
            1.25 * 0.75,
            id="space.md: 25 cm is 1.25 x 0.75 m",
        ),
        pytest.param("iguana_iguana", "SVL", 40, "IG_DE97", 2, 1.92, id="species table: 12 x 0.40^2"),
        pytest.param("centrochelys_sulcata", "SCL", 60, "DE97_tortoise", 1, 11.52, id="species table: DE97"),
        pytest.param(
            "centrochelys_sulcata", "SCL", 60, "BARNARD96_land", 1, 9.0, id="species table: BARNARD96"
        ),
        pytest.param(
            "tiliqua_scincoides", "TL", 50, "WTVS_lizard", 1, 1.5, id="species table: WTVS at 0.50 m"
        ),
        pytest.param(
            "pantherophis_guttatus", "TL", 175, "AT04_ground", 1, 1.2, id="species table: AT04 150-200"
        ),
        pytest.param("testudo_kleinmanni", "SCL", 11, "AT04_kleinmanni", 3, 1.4, id="AT04: 1.0 + 0.4 m2"),
    ],
)
def test_floor_of_worked_examples(
    taxon_id: str, kind: str, length_cm: float, rule: str, animals: int, expected_m2: float
) -> None:
    """Each rule gives the floor that its source, or a worked example of it, prints."""
    assert float(need(taxon_id, kind, length_cm, rule, animals).floor_m2[0]) == pytest.approx(
        expected_m2, abs=5e-4
    )


def test_further_tortoises_add_ten_then_twenty_percent() -> None:
    """DE97 as quoted: 3rd and 4th +10 %, each from the 5th +20 % of 1.28 m2."""
    floors = [
        float(need("testudo_graeca", "SCL", 20, "DE97_tortoise", n).floor_m2[0]) for n in (1, 2, 3, 4, 5, 6)
    ]
    assert floors == pytest.approx([1.28 * share for share in (1, 1, 1.1, 1.2, 1.4, 1.6)])


@pytest.mark.parametrize(
    ("taxon_id", "kind", "length_cm", "rule", "part", "expected_cm"),
    [
        pytest.param("trachemys_scripta", "SCL", 18, "EU63_turtle", "water_depth_cm", 30, id="C53"),
        pytest.param("trachemys_scripta", "SCL", 20, "BARNARD96_water", "water_depth_cm", 10, id="space.md"),
        pytest.param("trachemys_scripta", "SCL", 25, "WTVS_turtle", "water_depth_cm", 50, id="space.md"),
        pytest.param(
            "trachemys_scripta", "SCL", 25, "WTVS_turtle", "height_cm", 80, id="space.md: 2 L + 30 cm"
        ),
        pytest.param("python_regius", "TL", 120, "EU63_snake", "height_cm", 28, id="C55"),
        pytest.param("python_regius", "TL", 120, "AT04_ground", "height_cm", 60, id="C56"),
        pytest.param("python_regius", "TL", 120, "PY_DE97", "height_cm", 90, id="space.md: 0.75 L"),
        pytest.param("eublepharis_macularius", "SVL", 15, "LG_DE97", "height_cm", 30, id="C58"),
        pytest.param("testudo_graeca", "SCL", 20, "DE97_tortoise", "side_cm", 160, id="C57"),
        pytest.param("python_regius", "TL", 120, "WARWICK21", "side_cm", 120, id="WARWICK21: 1 L"),
    ],
)
def test_height_depth_and_side_of_worked_examples(
    taxon_id: str, kind: str, length_cm: float, rule: str, part: str, expected_cm: float
) -> None:
    """Each rule gives the height, depth or long side that its source prints."""
    assert float(getattr(need(taxon_id, kind, length_cm, rule), part)[0]) == pytest.approx(expected_cm)


def test_the_five_floors_for_a_snake_of_120_cm() -> None:
    """space.md: 0.25 (EU), 0.36 (Barnard), 0.40 (association), 0.72 (German), 0.9 m2 (Austria)."""
    named = ("EU63_snake", "BARNARD96_snake", "NASAHERP_python", "PY_DE97", "AT04_ground")
    floors = [float(need("python_regius", "TL", 120, rule).floor_m2[0]) for rule in named]
    assert floors == pytest.approx([0.25, 0.36, 0.40, 0.72, 0.9], abs=0.005)


def test_outdoor_rules_hold_only_outdoors() -> None:
    """The 20 m2 of TH_RATG are for a garden."""
    assert float(need("testudo_hermanni", "SCL", 18, "TH_RATG_out", 2, "outdoor").floor_m2[0]) == 20.0
    assert "TH_RATG_out" not in {row.rule for row in rules_for("testudo_hermanni")}


def test_a_table_does_not_speak_of_animals_beyond_it() -> None:
    """AT04's table of ground snakes is for snakes to 2.5 m: a python of 4 m finds no step there."""
    asked = apply_rules(
        rules_for("python_bivittatus"), {"TL": np.array([400.0])}, np.array([np.inf]), 1, None
    )
    assert "AT04_ground" not in {one.rule for one in asked}
    assert "BARNARD96_snake" in {one.rule for one in asked}


def test_a_volume_needs_the_height() -> None:
    """BD_SPCA asks for 454 L at 50-60 cm: 0.757 m2 at 60 cm height, nothing without a height."""
    rows, lengths, age = rules_for("pogona_vitticeps"), {"TL": np.array([55.0])}, np.array([np.inf])
    with_height = apply_rules(rows, lengths, age, 1, np.array([60.0]))
    without = apply_rules(rows, lengths, age, 1, None)
    by_rule = {one.rule: float(one.floor_m2[0]) for one in with_height}
    assert by_rule["BD_SPCA"] == pytest.approx(454 / 600)
    assert np.isnan(next(one.floor_m2[0] for one in without if one.rule == "BD_SPCA"))


def test_the_age_steps_of_a_rule() -> None:
    """NSW13: 0.02 m2 under 6 months, 0.03 to 12 months, 0.375 m2 after, also where the age is not known."""
    ages = np.array([3.0, 9.0, 30.0, np.inf])
    asked = apply_rules(rules_for("pogona_vitticeps"), {"SVL": np.full(4, 15.0)}, ages, 1, None)
    floors = next(one.floor_m2 for one in asked if one.rule == "NSW13")
    assert floors.tolist() == [0.02, 0.03, 0.375, 0.375]


def test_rules_without_a_known_length_are_left_out() -> None:
    """Nothing is invented where only a fixed size can be used."""
    asked = apply_rules(rules_for("python_regius"), {}, np.array([np.inf]), 1, None)
    assert {one.rule for one in asked} == {"PY_KOENIG", "PY_RK"}


TAXA = st.sampled_from([taxon for taxon in EVIDENCE.taxa.values() if taxon.rank == "species" and taxon.clade])


@given(TAXA, st.floats(3, 240), st.floats(1.0, 1.5), st.integers(1, 8))
def test_a_longer_animal_and_more_animals_never_need_less(
    taxon: object, length_cm: float, factor: float, animals: int
) -> None:
    """Within one rule the floor asked for never falls with length or number."""
    rows = rules_for(taxon.taxon_id)  # type: ignore[attr-defined]

    def floors(scale: float, n: int) -> dict[str, float]:
        lengths = {kind: np.array([scale * length_cm]) for kind in ("SCL", "SVL", "TL")}
        asked = apply_rules(rows, lengths, np.array([np.inf]), n, np.array([60.0]))
        return {one.rule: float(one.floor_m2[0]) for one in asked if not np.isnan(one.floor_m2[0])}

    one, longer, more = floors(1.0, animals), floors(factor, animals), floors(1.0, animals + 1)
    assert all(longer[rule] >= one[rule] - 1e-12 for rule in one if rule in longer)
    assert all(more[rule] >= one[rule] - 1e-12 for rule in one)


@given(st.lists(st.floats(0.1, 10), min_size=1, max_size=7))
def test_the_middle_rule_lies_between_the_laxest_and_the_strictest(floors: list[float]) -> None:
    """The median of the rules, world by world."""
    middle = middle_of([np.array([floor]) for floor in floors])
    assert middle is not None
    assert min(floors) <= middle[0] <= max(floors)


def test_without_any_rule_there_is_no_middle() -> None:
    """None, not zero."""
    assert middle_of([]) is None
    assert middle_of([np.array([np.nan])]) is None


def test_every_step_table_is_gapless() -> None:
    """Each step begins where the one before ends."""
    by_rule: dict[str, list[SpaceRule]] = {}
    for row in RULES:
        by_rule.setdefault(row.rule, []).append(row)
    for steps in by_rule.values():
        for before, after in pairwise(steps):
            if before.up_to_cm is not None or after.over_cm is not None:
                assert before.up_to_cm == after.over_cm
