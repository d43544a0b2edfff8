"""The food table against values that are not its own."""

import csv
from collections.abc import Mapping
from pathlib import Path

import pytest

from baskwell.evidence import load_evidence
from baskwell.evidence.package import DATA
from baskwell.evidence.rows.foods import Food

EVIDENCE = load_evidence()
FOODS = EVIDENCE.foods
RAW = DATA / "foods" / "raw"
CHECKS = Path(__file__).parents[1] / "data" / "food_checks.csv"

USDA_COLUMNS = {
    "water_g": "Water", "energy_kcal": "Energ_Kcal", "protein_g": "Protein", "fat_g": "Lipid_Tot",
    "ash_g": "Ash",
    "total_dietary_fibre_g": "Fiber_TD", "carbohydrate_g": "Carbohydrt", "sugars_g": "Sugar_Tot",
    "calcium_mg": "Calcium", "phosphorus_mg": "Phosphorus", "magnesium_mg": "Magnesium",
    "potassium_mg": "Potassium",
    "sodium_mg": "Sodium", "iron_mg": "Iron", "zinc_mg": "Zinc", "copper_mg": "Copper",
    "manganese_mg": "Manganese",
    "selenium_ug": "Selenium", "retinol_ug": "Retinol", "alpha_carotene_ug": "Alpha_Carot",
    "beta_cryptoxanthin_ug": "Beta_Crypt", "lutein_zeaxanthin_ug": "Lut_Zea", "vitamin_a_iu": "Vit_A_IU",
    "vitamin_e_mg": "Vit_E", "thiamin_mg": "Thiamin", "vitamin_c_mg": "Vit_C",
}  # fmt: skip
ATOMS = {"Ca": 40.078, "C": 12.011, "O": 15.999, "H": 1.008, "P": 30.974, "Na": 22.990, "Cl": 35.453}
"""Standard atomic weights, IUPAC 2021, to three decimals."""
SALTS = {
    ("calcium_carbonate_pure", "calcium_mg", "Ca"): {"Ca": 1, "C": 1, "O": 3},
    ("calcium_citrate", "calcium_mg", "Ca"): {"Ca": 3, "C": 12, "H": 18, "O": 18},
    ("calcium_lactate", "calcium_mg", "Ca"): {"Ca": 1, "C": 6, "H": 20, "O": 11},
    ("calcium_gluconate", "calcium_mg", "Ca"): {"Ca": 1, "C": 12, "H": 24, "O": 15},
    ("dicalcium_phosphate_anhydrous", "calcium_mg", "Ca"): {"Ca": 1, "H": 1, "P": 1, "O": 4},
    ("dicalcium_phosphate_anhydrous", "phosphorus_mg", "P"): {"Ca": 1, "H": 1, "P": 1, "O": 4},
    ("dicalcium_phosphate_dihydrate", "calcium_mg", "Ca"): {"Ca": 1, "H": 5, "P": 1, "O": 6},
    ("dicalcium_phosphate_dihydrate", "phosphorus_mg", "P"): {"Ca": 1, "H": 5, "P": 1, "O": 6},
    ("tricalcium_phosphate", "calcium_mg", "Ca"): {"Ca": 3, "P": 2, "O": 8},
    ("tricalcium_phosphate", "phosphorus_mg", "P"): {"Ca": 3, "P": 2, "O": 8},
}


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as handle:
        return list(csv.DictReader(handle))


USDA = {row["NDB_No"].lstrip("0"): row for row in _rows(RAW / "raw_usda_subset.csv")}
OK = [row for row in _rows(CHECKS) if row["status_when_built"] == "ok"]


def _quantity(food: Food, name: str, basis: str) -> float | None:
    if "/" in name:
        over, under = (getattr(food, part) for part in name.split("/"))
        return None if over is None or not under else float(over / under)
    value: float | None = getattr(food, name)
    if value is None or basis == "per_100g_as_fed":
        return value
    if basis == "per_100g_dm":
        return None if food.water_g is None else value * 100 / (100 - food.water_g)
    return None if not food.energy_kcal else value / food.energy_kcal


@pytest.mark.parametrize(
    "check", OK, ids=[f"{row['check_id']}-{row['food_id']}-{row['quantity']}" for row in OK]
)
def test_composition_agrees_with_another_laboratory(check: Mapping[str, str]) -> None:
    """tests/data/food_checks.csv: each row names its source and place; bands were set by rule."""
    value = _quantity(FOODS[check["food_id"]], check["quantity"], check["basis"])
    assert value is not None
    assert float(check["low"]) <= value <= float(check["high"])


def test_sixty_five_outside_values_are_met() -> None:
    """As counted when the table was built (foods README)."""
    assert len(OK) == 65


@pytest.mark.parametrize("food_id", [f for f, origin in EVIDENCE.food_map.items() if origin.ndb])
def test_usda_rows_are_those_of_the_release(food_id: str) -> None:
    """USDA National Nutrient Database for Standard Reference, release 28, file ABBREV, by NDB number."""
    raw = USDA[str(EVIDENCE.food_map[food_id].ndb)]
    filled = FOODS[food_id].fill_refs
    for column, name in USDA_COLUMNS.items():
        if f"{column}=" not in filled:
            text = raw[name].strip()
            assert getattr(FOODS[food_id], column) == (float(text) if text else None), column


@pytest.mark.parametrize("food_id", [f for f, origin in EVIDENCE.food_map.items() if origin.ndb])
def test_vitamin_a_units_add_up(food_id: str) -> None:
    """1 IU = 0.3 ug retinol = 0.6 ug beta-carotene = 1.2 ug alpha-carotene or beta-cryptoxanthin.

    The rule that USDA followed for IU; USDA rounds its parts, so 6 % or 5 IU are allowed.
    """
    food = FOODS[food_id]
    parts = (food.retinol_ug, food.beta_carotene_ug, food.alpha_carotene_ug, food.beta_cryptoxanthin_ug)
    if food.vitamin_a_iu is None or None in parts:
        pytest.skip("USDA gives no split for this food")
    weights = (0.3, 0.6, 1.2, 1.2)
    total = sum(float(part or 0) / weight for part, weight in zip(parts, weights, strict=True))
    assert food.vitamin_a_iu == pytest.approx(total, rel=0.06, abs=5)


@pytest.mark.parametrize("salt", SALTS, ids=[f"{food}-{column}" for food, column, _ in SALTS])
def test_pure_salts_by_stoichiometry(salt: tuple[str, str, str]) -> None:
    """The mass share of an element follows from the formula and the atomic weights."""
    food_id, column, element = salt
    formula = SALTS[salt]
    mass = sum(ATOMS[atom] * count for atom, count in formula.items())
    wanted = ATOMS[element] * formula[element] / mass * 100_000
    assert getattr(FOODS[food_id], column) == pytest.approx(wanted, rel=0.002)


def test_table_salt_is_sodium_chloride() -> None:
    """39.34 % sodium by formula; USDA rounds to 38,758 mg with 0.2 % water and trace minerals."""
    wanted = ATOMS["Na"] / (ATOMS["Na"] + ATOMS["Cl"]) * 100_000
    assert FOODS["table_salt"].sodium_mg == pytest.approx(wanted, rel=0.02)


@pytest.mark.parametrize("food_id", sorted(FOODS))
def test_energy_lies_between_what_its_parts_can_give(food_id: str) -> None:
    """4-9-4 kcal/g as the upper and 2-8-0 as the lower bound of Atwater-like factors (common practice)."""
    food = FOODS[food_id]
    if None in (food.energy_kcal, food.protein_g, food.fat_g, food.carbohydrate_g):
        pytest.skip("a part is not known")
    protein, fat, carbohydrate = (
        float(part or 0) for part in (food.protein_g, food.fat_g, food.carbohydrate_g)
    )
    energy = float(food.energy_kcal or 0)
    assert 2 * protein + 8 * fat - 5 <= energy <= (4.3 * protein + 9.1 * fat + 4.2 * carbohydrate) * 1.05 + 10


def test_mushroom_vitamin_d_is_not_counted_as_d3() -> None:
    """Foods README: USDA gives D2 + D3, mushrooms hold D2, so their D3 is nothing."""
    mushrooms = [food for food in FOODS.values() if "d2_not_d3" in food.flags]
    assert mushrooms
    assert {food.vitamin_d3_iu for food in mushrooms} == {0.0}
