"""Humidity and the drying power of air."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from baskwell.science.case.span import Span
from baskwell.science.draws import Draws, summarise
from baskwell.science.history.finding import Finding
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.spans import instrument_sd, stated
from baskwell.science.history.surroundings.wants import Want, wanted_of
from baskwell.science.history.surroundings.wording import Quantity, figure, measured, unknown, with_sentence
from baskwell.science.humidity import relative_humidity_after_warming, vapour_pressure_deficit_kpa

HUMIDITY = Quantity(
    "relative_humidity_pct",
    "humidity",
    "humidity",
    "%",
    "What does a hygrometer show at the animal's height?",
)
ASK_HYGROMETER = "With what was the humidity read: dial, digital, a logger, or guessed?"
ROOM_C, ROOM_PCT = 20.0, 50.0
"""The example of heat.md section 7: room air at 20 C and 50 % RH."""


def read_humidity(scene: Scene, logged: Mapping[str, Draws]) -> tuple[Draws | None, str]:
    """Relative humidity in %, shape ``(n_draws,)`` within 0 to 100, and how it is known; None = not known.

    A number or range has the error of the hygrometer; a word stands for its judged range.
    """
    sd = instrument_sd(scene, "humidity", scene.place.hygrometer)
    error = scene.streams["humidity"].standard_normal(scene.n_draws) * sd
    if "relative_humidity_pct" in logged:
        return logged["relative_humidity_pct"], "by the logger"
    said = scene.place.relative_humidity_pct
    if isinstance(said, Span):
        kind = scene.place.hygrometer or "unknown"
        return np.clip(stated(scene, said, "humidity") + error, 0, 100), f"as reported ({kind} hygrometer)"
    if isinstance(said, str):
        return scene.prior(f"humidity_{said}", "humidity"), f'where the owner said "{said}"'
    return None, ""


def wanted_humidity(scene: Scene) -> Want | None:
    """The wanted humidity, that of young animals where the table has one and the animal is young."""
    if scene.case.animal.age_class in ("hatchling", "juvenile"):
        young = wanted_of(scene, "relative_humidity_pct_juvenile")
        if young is not None:
            return young
    return wanted_of(scene, "relative_humidity_pct")


def humidity_finding(scene: Scene, draws: Draws | None, told: str, warm_c: Draws | None) -> Finding | None:
    """The finding on humidity; None for a water animal of which nothing was said."""
    want = wanted_humidity(scene)
    if draws is None:
        if want is None and scene.covered("tag:aquatic"):
            return None
        return with_sentence(unknown(scene, HUMIDITY, want), _dry_air(warm_c))
    more = [_drying(draws, warm_c), _damp_hide(scene, draws, want)]
    finding = measured(scene, HUMIDITY, draws, want, told, *filter(None, more))
    if finding.verdict == "doubtful" and scene.place.hygrometer is None and "logger" not in told:
        finding = replace(finding, ask=ASK_HYGROMETER)
    return finding


def drying_power_kpa(draws: Draws | None, warm_c: Draws | None) -> Draws | None:
    """Vapour pressure deficit on the warm side in kPa, None where either is not known."""
    return None if draws is None or warm_c is None else vapour_pressure_deficit_kpa(warm_c, draws)


def _drying(draws: Draws, warm_c: Draws | None) -> str:
    power = drying_power_kpa(draws, warm_c)
    if power is None:
        return ""
    pull = figure(summarise(power).median)
    return f"If that was so on the warm side, the air there drew water with {pull} kPa."


def _damp_hide(scene: Scene, draws: Draws, want: Want | None) -> str:
    if scene.place.moist_hide is not True or want is None or want.compare(draws).below < 0.5:
        return ""
    return "It had a moist hide, so it could find damper air than that."


def _dry_air(warm_c: Draws | None) -> str:
    """Why an unmeasured warm enclosure is likely dry: a fact of physics, not a finding on this one."""
    if warm_c is None or float(np.median(warm_c)) <= ROOM_C:
        return ""
    warm = float(np.median(warm_c))
    after = figure(float(relative_humidity_after_warming(ROOM_C, ROOM_PCT, warm)))
    return (
        f"Room air of {ROOM_C:g} °C and {ROOM_PCT:g} % has {after} % once warmed to {figure(warm)} °C, "
        "unless water is added."
    )
