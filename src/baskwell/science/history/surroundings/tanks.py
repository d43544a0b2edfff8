"""What an owner calls a tank, as sizes: gallons, names, litres, or length by width by height."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from baskwell.evidence.rows.environment import TankSize

_PER_CM = {"cm": 1.0, "mm": 0.1, "m": 100.0, "in": 2.54, "inch": 2.54, "inches": 2.54, '"': 2.54, "ft": 30.48,
           "foot": 30.48, "feet": 30.48, "'": 30.48}  # fmt: skip
_UNIT = r"(cm|mm|inches|inch|in|feet|foot|ft|m|\"|')?"
_SIDES = re.compile(
    rf"(\d+(?:[.,]\d+)?)\s*{_UNIT}\s*(?:x|×|by|\*)\s*(\d+(?:[.,]\d+)?)\s*{_UNIT}"
    rf"(?:\s*(?:x|×|by|\*)\s*(\d+(?:[.,]\d+)?)\s*{_UNIT})?",
    re.I,
)
_LITRES = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:l|litre|litres|liter|liters)\b", re.I)
_GALLONS = re.compile(r"(\d+(?:\.\d+)?)\s*-?\s*(?:us\s*)?(?:gallons?|gal|g)?\b", re.I)
_WORDS = ("long", "high", "breeder", "tall", "cabinet", "pen")
_LITRES_OFF = 0.1
_FEET_BELOW = 10.0


@dataclass(frozen=True)
class Tank:
    """One size that a name may mean: sides in cm (``height_cm`` None = not said)."""

    name: str
    length_cm: float
    width_cm: float
    height_cm: float | None

    @property
    def floor_m2(self) -> float:
        """Floor area in m2."""
        return self.length_cm * self.width_cm / 10_000.0


def read_tank(text: str, sizes: Iterable[TankSize]) -> tuple[Tank, ...]:
    """Every size that a tank's name may mean, () where none is known.

    ``text`` is a nominal volume in US gallons ("20 long", "40 gallon", "55g"), litres, or two or three
    sides. Sides without a unit are feet where all are below 10, inches where a tank of that length and
    width is sold, else cm. A bare number that several tanks share gives all of them; litres those within
    10 %.

    >>> from baskwell.evidence import load_evidence
    >>> [tank.name for tank in read_tank("40 gallon", load_evidence().tank_sizes)]
    ['40 breeder', '40 long']
    >>> round(read_tank("4 x 2 ft", ())[0].floor_m2, 3)   # space.md: a 4 x 2 ft cabinet has 0.743 m2
    0.743
    """
    known = list(sizes)
    sides = _SIDES.search(text)
    if sides:
        return (_by_sides(sides, known),)
    litres = _LITRES.search(text)
    if litres:
        volume = _number(litres[1])
        return tuple(_tank(size) for size in known if abs(size.gross_l / volume - 1.0) <= _LITRES_OFF)
    return _by_gallons(text, known)


def _by_gallons(text: str, known: list[TankSize]) -> tuple[Tank, ...]:
    found = _GALLONS.search(text)
    if not found:
        return ()
    words = {word for word in _WORDS if word in text.lower()}
    words = {"high" if word == "tall" else word for word in words}
    same = [(size, _names(size)) for size in known if " x " not in size.nominal_us_gallons]
    fitting = [
        (size, words_of) for size, names in same for number, words_of in names if number == float(found[1])
    ]
    exact = [size for size, words_of in fitting if words and words_of == words]
    return tuple(_tank(size) for size in (exact or ([] if words else [size for size, _ in fitting])))


def _names(size: TankSize) -> list[tuple[float, set[str]]]:
    """The names of a size as number and words: "30 long / 33 long" has two."""
    found = []
    for name in size.nominal_us_gallons.split("/"):
        number, *words = name.split()
        found.append((float(number), set(words)))
    return found


def _tank(size: TankSize) -> Tank:
    sides = (_PER_CM["in"] * side for side in (size.length_in, size.width_in, size.height_in))
    return Tank(size.nominal_us_gallons, *sides)


def _by_sides(found: re.Match[str], known: list[TankSize]) -> Tank:
    numbers = [_number(part) for part in (found[1], found[3], found[5]) if part]
    units = [unit.lower() for unit in (found[2], found[4], found[6]) if unit]
    per_cm = _PER_CM[units[-1]] if units else _unit_by_size(numbers, known)
    cm = [number * per_cm for number in numbers]
    return Tank(found[0].strip(), max(cm[:2]), min(cm[:2]), cm[2] if len(cm) > 2 else None)


def _unit_by_size(numbers: list[float], known: list[TankSize]) -> float:
    if max(numbers) < _FEET_BELOW:
        return _PER_CM["ft"]
    sold = {(size.length_in, size.width_in) for size in known}
    return _PER_CM["in"] if (max(numbers[:2]), min(numbers[:2])) in sold else _PER_CM["cm"]


def _number(text: str) -> float:
    return float(text.replace(",", "."))
