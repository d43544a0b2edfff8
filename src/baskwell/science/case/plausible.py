"""Sizes that an animal of the stated kind cannot have: most are slips of the unit."""

from collections.abc import Iterator

from baskwell.evidence import Evidence
from baskwell.evidence.rows.clinical import Taxon
from baskwell.science.case.model import Animal
from baskwell.science.case.problem import Path
from baskwell.science.case.span import Span
from baskwell.science.case.units import tidy

# Judgement: no animal weighs ten times, or measures three times, what large adults of its kind do.
_TIMES_MASS = 10.0
_TIMES_LENGTH = 3.0
# Judgement: an animal below a twentieth of a small adult is a hatchling, or its unit is wrong.
_SHARE_OF_SMALL = 0.05
_LENGTHS = {
    "straight_carapace_length_mm": "SCL",
    "snout_vent_length_mm": "SVL",
    "total_length_mm": "TL",
}
_WRONG_LENGTH = {
    "straight_carapace_length_mm": {"lizard", "snake"},
    "plastron_length_mm": {"lizard", "snake"},
}


def implausible_sizes(animal: Animal, evidence: Evidence) -> Iterator[tuple[Path, str, bool]]:
    """Yield masses and lengths that do not go with the taxon, with the number that was likely meant."""
    taxon = evidence.taxa.get(animal.taxon)
    if taxon is None:
        return
    yield from _mass(animal, taxon)
    yield from _lengths(animal, taxon)


def _mass(animal: Animal, taxon: Taxon) -> Iterator[tuple[Path, str, bool]]:
    low, high, mass = taxon.adult_mass_g_low, taxon.adult_mass_g_high, animal.mass_g
    if mass is None or low is None or high is None:
        return
    path: Path = ("animal", "mass_g")
    if mass.low is not None and mass.low > high * _TIMES_MASS:
        kilos = tidy(mass.low / 1000)
        sentence = (
            f"{tidy(mass.low)} g are {kilos} kg; large adults of {taxon.scientific_name} have about "
            f"{tidy(high)} g. Write grams: mass_g = {kilos} if it has {kilos} g."
        )
        yield path, sentence, True
    elif _far_too_small(mass, low, high) and animal.age_class not in {"hatchling", "juvenile"}:
        grams = tidy((mass.high or 0.0) * 1000)
        sentence = (
            f"{tidy(mass.middle)} g is very little for {taxon.scientific_name}. If kg were meant: {grams}."
        )
        yield path, sentence, False


def _far_too_small(size: Span, low: float, high: float) -> bool:
    if size.high is None or size.high > low * _SHARE_OF_SMALL:
        return False
    return low / 2 <= size.high * 1000 <= high * 2


def _lengths(animal: Animal, taxon: Taxon) -> Iterator[tuple[Path, str, bool]]:
    for name, clades in _WRONG_LENGTH.items():
        if getattr(animal, name) is not None and taxon.clade in clades:
            yield ("animal", name), f"a {taxon.clade} has no shell. Check taxon and length.", False
    for name, kind in _LENGTHS.items():
        length: Span | None = getattr(animal, name)
        if length is not None and kind == taxon.length_kind:
            yield from _length(("animal", name), length, animal, taxon)


def _length(path: Path, length: Span, animal: Animal, taxon: Taxon) -> Iterator[tuple[Path, str, bool]]:
    low, high = taxon.adult_length_mm_low, taxon.adult_length_mm_high
    if low is None or high is None:
        return
    if length.low is not None and length.low > high * _TIMES_LENGTH:
        large = f"a large adult of {taxon.scientific_name} ({tidy(high)} mm)"
        sentence = f"{tidy(length.low)} mm is more than {_TIMES_LENGTH:g} times {large}. Write millimetres."
        yield path, sentence, True
    young = animal.age_class in {"hatchling", "juvenile"}
    if not young and length.high is not None and length.high < low / 5 and length.high * 10 <= high * 2:
        meant = f"If cm were meant: {tidy(length.high * 10)}."
        yield path, f"{tidy(length.high)} mm is very short for {taxon.scientific_name}. {meant}", False
