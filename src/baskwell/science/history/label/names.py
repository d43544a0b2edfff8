"""Printed ingredient names read as feed materials."""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from baskwell.evidence.catalogue import Evidence
from baskwell.science.errors import KeeperError

SPELLINGS = {
    "fiber": "fibre", "color": "colour", "colors": "colours", "flavor": "flavour", "flavors": "flavours",
    "sulphate": "sulfate", "sulphur": "sulfur", "hydrolyzed": "hydrolysed", "byproduct": "by product",
    "byproducts": "by products", "soyabean": "soya bean", "stabilized": "stabilised", "gelatine": "gelatin",
    "and/or": "and", "premixture": "premix", "premixtures": "premix",
}  # fmt: skip
HOW_PREPARED = {
    "ground", "organic", "whole", "fine", "finely", "milled", "rolled", "flaked", "cracked", "cooked",
    "fresh", "natural", "pure", "extruded", "toasted", "heat", "treated", "processed", "raw", "selected",
    "real", "premium", "kibbled", "crushed", "chopped", "powder", "powdered", "pieces", "dehydrated",
    "dried", "freeze", "sun", "cured", "suncured", "added", "including", "with", "from", "of", "the",
    "unbleached", "steamed", "pelleted", "high", "quality", "micronised", "micronized", "full", "fat",
}  # fmt: skip
DRIED_WATER_PCT = 8.0  # common practice: dried leaves, roots and insects keep 5-12 % water
MOST_INGREDIENTS = 150
LONG_LIST = 16  # entries that always stay apart
TRACE_MAX_PCT = 0.2  # an addition that is rarely above this is one of the small ones
MERGED_MAX_PCT = 2.0  # judgement: all small additions together are rarely above this
NEAR = 0.86  # likeness at which a spelling is taken for another; below it the ingredient stays unknown
PERCENT = re.compile(
    r"(min(?:imum|\.)?\s*)?(\d{1,3}(?:[.,]\d{1,3})?)\s*%(\s*min(?:imum|\.)?)?", re.IGNORECASE
)


@dataclass(frozen=True)
class Ingredient:
    """One entry of the list: what it is read as, and what is said of its share.

    ``material_id`` is "" where the name is not known. ``stated`` is a (low, high) percentage printed
    with the name; ``usual_max_pct`` the share that is rarely passed; ``adds`` what it is added for.
    ``doubtful`` where the name was not found as printed.
    """

    printed: str
    material_id: str = ""
    water_pct: float | None = None
    usual_max_pct: float | None = None
    adds: tuple[str, ...] = ()
    stated: tuple[float, float] | None = None
    note: str = ""
    doubtful: bool = False


def plain(text: str) -> str:
    """A printed name in lower case without accents, brackets, marks and differences of spelling.

    >>> plain("Poultry By-Product Meal (preserved with tocopherols)")
    'poultry by product meal'
    """
    flat = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    flat = re.sub(r"\([^()]*\)|\[[^\[\]]*\]", " ", PERCENT.sub(" ", flat))
    words = re.sub(r"[^a-z0-9]+", " ", flat.replace("&", " and ").replace("'", "")).split()
    return " ".join(SPELLINGS.get(word, word) for word in words)


@dataclass(frozen=True)
class NameIndex:
    """Every known printed name in plain form; built once for all labels."""

    known: Mapping[str, Ingredient]
    foods: Mapping[str, Ingredient]

    @classmethod
    def from_evidence(cls, evidence: Evidence) -> "NameIndex":
        """Read the names of the evidence (about 15 ms)."""
        known = {
            plain(row.printed_name): Ingredient(
                row.printed_name, row.material_id, row.water_pct, row.usual_max_pct, row.adds, None, row.note
            )
            for row in evidence.feed_labels.ingredient_names
        }
        foods = {
            spelling: Ingredient(food.food_id, food.food_id)
            for food in evidence.foods.values()
            for spelling in (plain(food.food_id.replace("_", " ")), plain(food.name.split(",")[0]))
        }
        return cls(known, foods)

    def read(self, printed: str) -> Ingredient:
        """The ingredient that a printed name stands for.

        A name that nothing resembles is kept, with ``material_id`` "".

        >>> from baskwell.evidence.loader import load_evidence
        >>> index = NameIndex.from_evidence(load_evidence())
        >>> index.read("Soyabean Meal").material_id
        'soybean_meal'
        >>> index.read("Wheat midlings").note
        'read as "wheat middlings", the nearest known spelling'
        >>> index.read("moon dust").material_id
        ''
        """
        name = plain(printed)
        found = self._look_up(name) or self._dried(name) or self._look_up(_bare(name))
        found = found or self._inside(printed) or self._nearest(name) or Ingredient(printed)
        note = found.note or ("" if found.material_id else "not known: widened over all feed materials")
        return Ingredient(
            printed=printed.strip(),
            material_id=found.material_id,
            water_pct=found.water_pct,
            usual_max_pct=found.usual_max_pct,
            adds=found.adds,
            stated=stated_share(printed),
            note=note,
            doubtful=found.doubtful or not found.material_id,
        )

    def _look_up(self, name: str) -> Ingredient | None:
        for spelling in (name, _singular(name), name + "s"):
            found = self.known.get(spelling) or self.foods.get(spelling)
            if found is not None and spelling:
                return found
        return None

    def _dried(self, name: str) -> Ingredient | None:
        if not name.startswith(("dried ", "dehydrated ", "freeze dried ")):
            return None
        food = self.foods.get(_bare(name)) or self.foods.get(_singular(_bare(name)))
        if food is None:
            return None
        return Ingredient(
            food.printed, food.material_id, DRIED_WATER_PCT, note="the fresh food, dried", doubtful=True
        )

    def _inside(self, printed: str) -> Ingredient | None:
        """The first known name in brackets, where the name before them is not known."""
        for part in re.split(r"[(),;\[\]]", printed)[1:]:
            found = self._look_up(plain(part))
            if found is not None:
                return replace(found, note=f'read as "{part.strip()}", named in brackets', doubtful=True)
        return None

    def _nearest(self, name: str) -> Ingredient | None:
        near = get_close_matches(name, self.known, n=1, cutoff=NEAR) if len(name) < 80 else []
        if not near:
            return None
        kept = self.known[near[0]]
        note = f'read as "{kept.printed}", the nearest known spelling'
        return replace(kept, note=note, doubtful=True)


def read_ingredients(printed: Sequence[str], index: NameIndex) -> tuple[Ingredient, ...]:
    """Read the list of a label in its order; empty entries are left out.

    In a long list the single vitamins, trace elements and additives at its end are taken as one entry:
    each is far below 1 %, and their order tells nothing that matters. Raises KeeperError for more than 150.
    """
    names = [name for name in printed if name.strip()]
    if len(names) > MOST_INGREDIENTS:
        raise KeeperError(
            f"The list holds {len(names)} ingredients; at most {MOST_INGREDIENTS} are read. Is it one label?"
        )
    read = [index.read(name) for name in names]
    tail = len(read)
    while tail > LONG_LIST and _is_trace(read[tail - 1]):
        tail -= 1
    return (*read[:tail], *_merged(read[tail:]))


def _is_trace(item: Ingredient) -> bool:
    return item.stated is None and item.usual_max_pct is not None and item.usual_max_pct <= TRACE_MAX_PCT


def _merged(tail: Sequence[Ingredient]) -> tuple[Ingredient, ...]:
    if len(tail) < 2:
        return tuple(tail)
    adds = tuple(dict.fromkeys(word for item in tail for word in item.adds))
    whole = TRACE_MAX_PCT * len(tail)
    printed = f"{tail[0].printed} and {len(tail) - 1} more"
    note = "small additions at the end of the list, taken together"
    return (Ingredient(printed, tail[0].material_id, None, min(whole, MERGED_MAX_PCT), adds, None, note),)


def stated_share(printed: str) -> tuple[float, float] | None:
    """The share printed with a name as (low, high) in percent, None where there is none.

    A plain figure is a rounded one; "min." gives a lower bound only.

    >>> stated_share("fish meal 12 %"), stated_share("chicken (min. 4%)"), stated_share("oats")
    ((11.5, 12.5), (4.0, 100.0), None)
    """
    found = PERCENT.search(printed)
    if found is None:
        return None
    figure = found.group(2).replace(",", ".")
    value = float(figure)
    if not 0.0 < value <= 100.0:
        return None
    if found.group(1) or found.group(3):
        return value, 100.0
    half = 0.5 / 10 ** len(figure.partition(".")[2])
    return max(value - half, 0.0), min(value + half, 100.0)


def _bare(name: str) -> str:
    return " ".join(word for word in name.split() if word not in HOW_PREPARED)


def _singular(name: str) -> str:
    if name.endswith("ies"):
        return name[:-3] + "y"
    return name[:-1] if name.endswith("s") and not name.endswith("ss") else name
