"""The analysis printed on a label, as text, read into guarantee keys."""

import re
from collections.abc import Iterator
from itertools import pairwise

STEMS = {
    "crude protein": "crude_protein", "protein": "crude_protein",
    "crude oils and fats": "crude_fat", "oils and fats": "crude_fat", "crude fat": "crude_fat",
    "crude fats": "crude_fat", "fat content": "crude_fat", "crude oil": "crude_fat", "fat": "crude_fat",
    "crude fibre": "crude_fibre", "crude fiber": "crude_fibre", "crude fibres": "crude_fibre",
    "crude fibers": "crude_fibre", "fibre": "crude_fibre", "fiber": "crude_fibre",
    "moisture": "moisture", "water": "moisture",
    "crude ash": "ash", "ash": "ash", "inorganic matter": "ash", "incinerated residue": "ash",
    "calcium": "calcium", "phosphorus": "phosphorus", "phosphorous": "phosphorus", "sodium": "sodium",
    "magnesium": "magnesium", "potassium": "potassium", "iron": "iron", "zinc": "zinc", "copper": "copper",
    "manganese": "manganese", "selenium": "selenium", "iodine": "iodine",
    "vitamin a": "vitamin_a", "vitamin d3": "vitamin_d3", "vitamin d 3": "vitamin_d3",
    "vitamin d": "vitamin_d3", "vitamin e": "vitamin_e", "vitamin c": "vitamin_c",
    "ascorbic acid": "vitamin_c", "vitamin b1": "thiamin", "thiamine": "thiamin", "thiamin": "thiamin",
    "beta carotene": "beta_carotene",
}  # fmt: skip
IN_PERCENT = {
    "crude_protein", "crude_fat", "crude_fibre", "moisture", "ash", "calcium", "phosphorus", "sodium",
    "magnesium", "potassium",
}  # fmt: skip
IN_IU = {"vitamin_a", "vitamin_d3", "vitamin_e"}
USUAL_SIDE = {
    "crude_protein": "min",
    "crude_fat": "min",
    "crude_fibre": "max",
    "moisture": "max",
    "ash": "max",
}
LB_PER_KG = 2.2046226218
SCALES = {"%": ("pct", 1.0), "g": ("pct", 0.1), "mg": ("mg_per_kg", 1.0), "ppm": ("mg_per_kg", 1.0),
          "ug": ("mg_per_kg", 0.001), "mcg": ("mg_per_kg", 0.001), "iu": ("iu_per_kg", 1.0)}  # fmt: skip

_NAMES = "|".join(
    re.escape(name).replace(r"\ ", r"[\s-]{1,3}") for name in sorted(STEMS, key=len, reverse=True)
)
_NAME = re.compile(rf"(?<![\w-])(?:{_NAMES})(?![\w-])", re.IGNORECASE)
_FIGURE = re.compile(
    r"(?P<number>\d{1,3}(?:[ ,]\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?)\s{0,2}"
    r"(?P<unit>%|mg|g|ppm|ug|mcg|iu|i\.u\.)?\s{0,2}(?P<per>(?:/|per)\s{0,2}(?:kg|lb|kilogram|pound))?",
    re.IGNORECASE,
)
_SIDE = re.compile(
    r"(?P<min>\bmin\b|minimum|not\s+less\s+than|no\s+less\s+than|at\s+least|≥|>=)"
    r"|(?P<max>\bmax\b|maximum|not\s+more\s+than|no\s+more\s+than|at\s+most|up\s+to|≤|<=)",
    re.IGNORECASE,
)
_RANGE = re.compile(r"(\d+(?:[.,]\d+)?)\s{0,2}(?:-|–|to)\s{0,2}(?=\d)")


def is_analysis(line: str) -> bool:
    """Whether a line without a heading is one of an analysis: a nutrient first, then a figure.

    >>> is_analysis("Crude protein (min) 24 %"), is_analysis("Wheat, fish protein 4 %")
    (True, False)
    """
    name = _NAME.match(line.strip())
    return name is not None and bool(re.search(r"\d", line.strip()[name.end() :]))


def read_analysis(text: str, heading: str) -> tuple[dict[str, float], list[str]]:
    """Guarantee keys and values of an analysis, and the printed items that are not used.

    Under a "guaranteed" heading a value without "min" or "max" takes its usual side; under any other it
    is a value. A later item overrides an earlier one of the same key.

    >>> read_analysis("Crude Protein (min) 24 %; Calcium 1.0-1.8 %; Lysine 1 %", "Guaranteed analysis")
    ({'crude_protein_min_pct': 24.0, 'calcium_min_pct': 1.0, 'calcium_max_pct': 1.8}, ['Lysine 1 %'])
    """
    found: dict[str, float] = {}
    unused: list[str] = []
    guaranteed = "guarantee" in heading.lower()
    for item in _items(text):
        read = dict(_read_item(item, guaranteed))
        if not read and re.search(r"\d", item):
            unused.append(" ".join(item.split()).strip(" .:"))
        found |= read
    return found, unused


def _items(text: str) -> Iterator[str]:
    """Parts of the analysis: at line ends, semicolons, commas outside numbers, and before each name."""
    plain = re.sub(r"\b(min|max)\.", r"\1 ", re.sub(r"\.{2,}", " ", text), flags=re.IGNORECASE)
    for part in _with_figures(re.split(r"[;\n•|]|,(?!\d)|(?<!\d)\.(?=\s|$)", plain)):
        starts = [0, *[match.start() for match in _NAME.finditer(part)][1:], len(part)]
        for start, end in pairwise(starts):
            yield part[start:end]


def _with_figures(parts: list[str]) -> Iterator[str]:
    """Join a part without a figure to the next: "Vitamin E, not less than 50 IU/kg" is one item."""
    held: list[str] = []
    for part in parts:
        held.append(part)
        if re.search(r"\d", _NAME.sub(" ", part)):
            yield " ".join(held)
            held = []


def _read_item(item: str, guaranteed: bool) -> Iterator[tuple[str, float]]:
    name = _NAME.search(item)
    if name is None:
        return
    stem = STEMS[" ".join(re.split(r"[\s-]+", name.group(0).lower()))]
    rest = item[: name.start()] + " " * len(name.group(0)) + item[name.end() :]
    figures = list(_FIGURE.finditer(_RANGE.sub(r"min \1 max ", rest)))
    text = _RANGE.sub(r"min \1 max ", rest)
    unit = next((figure.group("unit") for figure in reversed(figures) if figure.group("unit")), None)
    for figure in figures:
        key, value = _keyed(stem, figure, unit, _side(text, figure, len(figures), stem, guaranteed))
        if key:
            yield key, value


def _side(text: str, figure: "re.Match[str]", figures: int, stem: str, guaranteed: bool) -> str:
    """The side that is said nearest before a figure, or after it where there is but one."""
    before = [match for match in _SIDE.finditer(text) if match.end() <= figure.start()]
    after = [match for match in _SIDE.finditer(text) if match.start() >= figure.end()]
    said = before[-1:] or (after[:1] if figures == 1 else [])
    if said:
        return "min" if said[0].group("min") else "max"
    return USUAL_SIDE.get(stem, "min") if guaranteed else ""


def _keyed(stem: str, figure: "re.Match[str]", unit: str | None, side: str) -> tuple[str, float]:
    """The key and value of a figure; an empty key where its unit does not suit the nutrient."""
    told = (figure.group("unit") or unit or "%").lower().replace(".", "")
    suffix, factor = SCALES[told]
    value = _number(figure.group("number")) * factor
    if "lb" in (figure.group("per") or "").lower() or "pound" in (figure.group("per") or "").lower():
        value *= LB_PER_KG
    if stem in IN_PERCENT and suffix == "mg_per_kg":
        suffix, value = "pct", value / 10_000.0
    elif stem not in IN_PERCENT and suffix == "pct":
        suffix, value = "mg_per_kg", value * 10_000.0
    if (suffix == "iu_per_kg") != (stem in IN_IU) and not (stem == "vitamin_e" and suffix == "mg_per_kg"):
        return "", 0.0
    return f"{stem}_{side}_{suffix}" if side else f"{stem}_{suffix}", round(value, 9)


def _number(text: str) -> float:
    plain = text.replace(" ", "")
    if re.fullmatch(r"\d{1,3}(?:,\d{3})+(?:\.\d+)?", plain):
        return float(plain.replace(",", ""))
    return float(plain.replace(",", "."))
