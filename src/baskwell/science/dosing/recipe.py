"""From an amount to what a person can measure: whole pieces, millilitres, or hundredths of a gram.

Everything is rounded down, and the reading error of the tool is taken off first.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from baskwell.evidence import Evidence
from baskwell.evidence.rows.dosing import MeasuringTool
from baskwell.science.dosing.product import UNIT_OF, Form, Product
from baskwell.science.dosing.result import Recipe
from baskwell.science.dosing.substances import SUBSTANCES
from baskwell.science.dosing.tell import down, figure

ROUND_OFF = 1e-9  # relative: what a stated 0.3 mL may lose in binary, taken off before rounding down
DRY: tuple[Form, ...] = ("powder", "tablet")


@dataclass(frozen=True, slots=True)
class _Measure:
    """One way to measure: ``units`` of product in one dose."""

    units: float
    measure: float
    tool: MeasuringTool
    made_up_to: float


def recipe_for(
    product: Product, most_units: float, wished_units: float, every_days: int, evidence: Evidence
) -> Recipe | None:
    """The largest dose that can be measured within ``most_units`` of product; None if none is that small.

    ``most_units`` (g, ml or pieces of product, 0 or more) is never passed, reading error included;
    ``wished_units`` is never passed as measured. More room never gives a smaller dose.

    >>> from baskwell.evidence import load_evidence
    >>> capsule = Product("capsule", {"vitamin_A": 10_000.0})
    >>> got = recipe_for(capsule, 0.0274, 0.0274, 7, load_evidence())     # 274 of 10,000 IU
    >>> (got.parts, got.made_up_to, got.measure, got.measure_unit) if got else None
    (1.0, 10.0, 0.26, 'ml')
    """
    way = next(_ways(product, most_units, wished_units, evidence), None)
    return None if way is None else _told(product, way, every_days)


def least_units(product: Product, evidence: Evidence) -> float:
    """The smallest amount of product that can be measured, reading error included."""
    return min(_least_of(tool, size) for tool, size in _options(product, evidence))


def _ways(product: Product, most: float, wished: float, evidence: Evidence) -> Iterator[_Measure]:
    """The ways that fit, the strongest first.

    A weaker mixture serves only below the least of the stronger ones, so that more room never gives less.
    """
    if not (math.isfinite(most) and math.isfinite(wished)):
        raise ValueError(f"A dose needs finite amounts of product, got {most} and {wished}.")
    below = math.inf
    for tool, size in _options(product, evidence):
        share = 1.0 / size if size else 1.0
        count = _steps(
            tool, share, share * (_mixing(product, evidence) if size else 1.0), most, min(wished, below)
        )
        measure = round(count * (tool.step or 1.0), 9)
        least = tool.least or 0.0
        if count > 0 and measure >= least * (1 - ROUND_OFF):
            yield _Measure(measure * share, measure, tool, size)
        below = min(below, least * share)


def _steps(tool: MeasuringTool, share: float, at_most: float, most: float, wished: float) -> int:
    """How many steps of a tool fit, each holding ``share`` of a unit of product, ``at_most`` with errors."""
    step, error = tool.step or 1.0, tool.error or 0.0
    by_most = (most / at_most - error) / step * (1 - ROUND_OFF)
    by_wish = wished / share / step * (1 + ROUND_OFF)
    return math.floor(min(by_most, by_wish, (tool.most or 0.0) / step * (1 + ROUND_OFF)))


def _options(product: Product, evidence: Evidence) -> Iterator[tuple[MeasuringTool, float]]:
    """Tool and size of the mixture; 0 = undiluted."""
    tools: Mapping[str, MeasuringTool] = {tool.measures: tool for tool in evidence.dosing.measuring}
    own = tools[product.form]
    yield own, 0.0
    meter = tools["powder" if product.form in DRY else "liquid"]
    for size in own.made_up_to:
        yield meter, float(size)


def _mixing(product: Product, evidence: Evidence) -> float:
    """How much more than one part of product a mixture may hold: the error of measuring that one part."""
    own = next(tool for tool in evidence.dosing.measuring if tool.measures == product.form)
    return 1.0 + (own.error or 0.0)


def _least_of(tool: MeasuringTool, size: float) -> float:
    return ((tool.least or 0.0) + (tool.error or 0.0)) / (size or 1.0)


def _told(product: Product, way: _Measure, every_days: int) -> Recipe:
    unit = product.unit if not way.made_up_to else ("g" if product.form in DRY else "ml")
    holds = tuple((n, amount * way.units) for n, amount in product.holds.items())
    steps = (*_mixing_steps(product, way, unit), _giving(way, unit, every_days), _holding(holds))
    return Recipe(
        way.measure, unit, 1.0 if way.made_up_to else way.measure, way.made_up_to, holds, every_days, steps
    )


def _mixing_steps(product: Product, way: _Measure, unit: str) -> Sequence[str]:
    if not way.made_up_to:
        return ()
    size = f"{way.made_up_to:g}"
    mixed = {
        "powder": f"Weigh 1.00 g of the powder and fill up with a plain carrier powder to {size} g in all",
        "tablet": f"Grind 1 tablet to dust and fill up with a plain carrier powder to {size} g in all",
        "liquid": f"Draw up 1 ml of the product and fill up with oil (water, if watery) to {size} ml",
        "drop": f"Let 1 drop fall and fill up with plain vegetable oil to {size} ml in all",
        "capsule": f"Squeeze out 1 whole capsule and fill up with plain vegetable oil to {size} ml in all",
    }[product.form]
    one = ", ".join(f"{down(a / way.made_up_to)} {SUBSTANCES[n].unit}" for n, a in product.holds.items())
    return (
        f"{mixed} (1 part in {size}). Mix well, each time before it is used.",
        f"Label it: 1 {unit} holds {one}; write the date on it.",
    )


def _giving(way: _Measure, unit: str, every_days: int) -> str:
    often = "every day" if every_days == 1 else f"every {every_days} days"
    if way.made_up_to:
        amount = f"{way.measure:g} {unit} of the mixture ({way.tool.name})"
        return f"Give {amount} in food, {often}; never more often."
    plural = "s" if unit in UNIT_OF.values() and unit not in ("g", "ml") and way.measure != 1 else ""
    return f"Give {way.measure:g} {unit}{plural} ({way.tool.name}) in food, {often}; never more often."


def _holding(holds: tuple[tuple[str, float], ...]) -> str:
    told = " and ".join(f"{figure(amount)} {SUBSTANCES[n].unit}" for n, amount in holds)
    return f"One dose holds {told}, rounded down to what can be measured."
