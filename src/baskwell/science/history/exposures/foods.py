"""Which foods count as what, by the groups and flags of ``foods/foods.csv``."""

from collections.abc import Callable

from baskwell.evidence.rows.foods import Food

Chosen = Callable[[Food], bool]

ANIMAL_GROUPS = frozenset({"egg_dairy", "meat", "organ", "fish", "invertebrate", "whole_prey", "pet_food"})
ROUGH_GROUPS = frozenset({"forage", "weed_browse", "whole_prey"})


def is_fruit(food: Food) -> bool:
    """Fruit, fresh or preserved."""
    return food.group == "fruit"


def is_insect(food: Food) -> bool:
    """Insects and other feeder invertebrates."""
    return food.group == "invertebrate"


def is_whole_vertebrate(food: Food) -> bool:
    """Whole mice, rats, chicks or fish."""
    return food.group == "whole_prey"


def is_rodent_or_bird(food: Food) -> bool:
    """Whole prey that can be offered live and bites; fish are none."""
    return food.group == "whole_prey" and not food.food_id.startswith("smelt")


def is_fish(food: Food) -> bool:
    """Fish, whole or in parts."""
    return food.group == "fish" or food.food_id.startswith("smelt")


def holds_thiaminase(food: Food) -> bool:
    """Fish or shellfish flagged as holding thiaminase."""
    return "thiaminase" in food.flags


def is_pet_food(food: Food) -> bool:
    """Cat or dog food."""
    return food.group == "pet_food"


def is_animal_or_legume(food: Food) -> bool:
    """Protein that a plant eater does not meet: animal food and seeds of legumes."""
    return food.group in ANIMAL_GROUPS | {"legume"} or food.food_id in (
        "soybean_meal",
        "soy_flour_fullfat",
        "peas_green",
    )


def is_brassica(food: Food) -> bool:
    """Leaves, roots and vegetables flagged goitrogenic; soy is flagged too and is no brassica."""
    return "goitrogenic" in food.flags and food.group in ("leafy_green", "vegetable")


def is_rough(food: Food) -> bool:
    """Food that wears the beak: hay, grasses, weeds, whole prey with bone and snails with shell."""
    return food.group in ROUGH_GROUPS or food.food_id in ("snail", "cuttlebone")


def is_green(food: Food, carotene_ug: float) -> bool:
    """Weeds, browse and forage, and leaves with at least so much beta-carotene (ug per 100 g as fed)."""
    if food.group in ("weed_browse", "forage"):
        return True
    return food.group == "leafy_green" and (food.beta_carotene_ug or 0.0) >= carotene_ug


def is_fatty_insect(food: Food, fat_share: float) -> bool:
    """Insects with at least this share of fat in the dry matter."""
    if food.group != "invertebrate" or food.fat_g is None or food.water_g is None:
        return False
    return food.fat_g / (100.0 - food.water_g) >= fat_share


def is_calcium_source(food: Food) -> bool:
    """Calcium salts, cuttlebone, limestone and bone meal listed among the foods."""
    return food.food_id.startswith(
        ("calcium_", "dicalcium", "tricalcium", "cuttlebone", "limestone", "bone_meal")
    )


def is_iodine_source(food: Food) -> bool:
    """Seaweed listed among the foods; table salt may or may not be iodised and does not count."""
    return food.food_id.startswith("seaweed")
