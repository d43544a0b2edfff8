"""Rows of the tables that read a feed label: names, materials, guarantees, premixes."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class IngredientName:
    """A name as printed on labels, and what it is read as.

    ``material_id`` is a ``food_id`` or a ``material_id`` of ``label_materials.csv``. ``water_pct``, where
    given, is the water it is added with (a fruit dried before use); ``usual_max_pct`` the share of the
    feed that is passed about one time in ten. ``adds`` names what it is added for: nutrients, ``vitamins``,
    ``minerals``.
    """

    printed_name: str
    material_id: str
    water_pct: float | None
    usual_max_pct: float | None
    adds: tuple[str, ...]
    note: str
    source_id: str
    grade: str


@dataclass(frozen=True, slots=True)
class LabelMaterial:
    """One nutrient of a feed material per 100 g as added, as a (low, most likely, high) statement.

    Completes blanks of ``foods.csv``, or describes a material that table lacks (``name`` is then
    given). ``nutrient`` ``*`` says that every nutrient without a row is zero.
    """

    material_id: str
    name: str
    nutrient: str
    low: float
    mode: float
    high: float
    unit: str
    source_id: str
    grade: str
    note: str


@dataclass(frozen=True, slots=True)
class LabelGuarantee:
    """What a printed guarantee says of the true content.

    ``stem``, ``side`` (``min``, ``max``, ``value``) and ``suffix`` make the key of the case file.
    The true content lies on the safe side of the printed value by ``margin`` with standard deviation
    ``sd``, and is not taken to break it by more than ``tolerance``; these three are in points of the
    printed unit or shares of the printed value (``margin_unit``). ``tolerance_share`` bounds the
    tolerance of small printed values. ``per_100_g`` turns the printed unit into that of ``foods.csv``.
    """

    stem: str
    side: str
    suffix: str
    nutrient: str
    per_100_g: float
    supplied_by: str
    margin_unit: str
    margin: float
    sd: float
    tolerance: float
    tolerance_share: float
    aliases: tuple[str, ...]
    source_id: str
    grade: str
    note: str


@dataclass(frozen=True, slots=True)
class PremixSupply:
    """What a premix usually adds to a kilogram of feed where the label does not say."""

    nutrient: str
    premix: str
    low_per_kg: float
    mode_per_kg: float
    high_per_kg: float
    source_id: str
    grade: str
    note: str


@dataclass(frozen=True, slots=True)
class FeedLabelTables:
    """The tables of label reading, each named as its file in ``foods/``."""

    ingredient_names: tuple[IngredientName, ...]
    label_materials: tuple[LabelMaterial, ...]
    label_guarantees: tuple[LabelGuarantee, ...]
    premix_supply: tuple[PremixSupply, ...]
