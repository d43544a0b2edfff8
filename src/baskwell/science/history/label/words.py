"""Names and units of what is read from a label, for people."""

SPECIAL = {
    "protein_g": "crude protein",
    "fat_g": "crude fat",
    "vitamin_d3_iu": "vitamin D3",
    "vitamin_a_iu": "vitamin A activity (old IU rule)",
    "vitamin_e_mg": "vitamin E",
    "vitamin_c_mg": "vitamin C",
    "retinol_ug": "vitamin A (retinol)",
    "ndf_g": "neutral detergent fibre",
    "adf_g": "acid detergent fibre",
    "water_g": "moisture",
    "ca_p_ratio": "calcium to phosphorus ratio",
}
IU_OF_RETINOL_UG = 0.3  # micrograms of retinol in one IU of vitamin A (foods README, Units)


def nutrient_name(nutrient: str) -> str:
    """The name of a column of ``foods.csv`` in words.

    >>> nutrient_name("beta_carotene_ug"), nutrient_name("retinol_ug")
    ('beta carotene', 'vitamin A (retinol)')
    """
    return SPECIAL.get(nutrient, nutrient.rpartition("_")[0].replace("_", " "))


def nutrient_unit(nutrient: str) -> str:
    """The unit of a reading.

    >>> nutrient_unit("calcium_mg"), nutrient_unit("water_g"), nutrient_unit("ca_p_ratio")
    ('mg/kg DM', 'g/kg as sold', '')
    """
    if nutrient == "ca_p_ratio":
        return ""
    if nutrient == "water_g":
        return "g/kg as sold"
    unit = nutrient.rpartition("_")[2]
    return {"iu": "IU"}.get(unit, unit) + "/kg DM"


def in_label_units(nutrient: str, amount: float) -> str:
    """An amount as labels print it: vitamin A in IU, the rest in its own unit.

    >>> in_label_units("retinol_ug", 600.0), in_label_units("iodine_ug", 300.0)
    ('2,000 IU', '300 ug')
    """
    if nutrient == "retinol_ug":
        return f"{amount / IU_OF_RETINOL_UG:,.0f} IU"
    unit = {"iu": "IU"}.get(nutrient.rpartition("_")[2], nutrient.rpartition("_")[2])
    return f"{amount:,.0f} {unit}" if amount >= 1000 else f"{amount:.3g} {unit}"
