"""How long the surroundings of a case take, and a long logger file: reading it and judging by it."""

import datetime as dt
from collections.abc import Iterator

import numpy as np

from baskwell.evidence import load_evidence
from baskwell.science.case.model import Animal, Case, History
from baskwell.science.case.model_care import Surroundings
from baskwell.science.case.span import Span
from baskwell.science.history.climate_log import ClimateLog, read_climate_log
from baskwell.science.history.surroundings import recall_surroundings
from benchmarks.figure import Figure, seconds

N_DRAWS = 4000
LOG_ROWS = 100_000


def measure() -> Iterator[Figure]:
    """Wall time after import: a case told in full, one of a genus told in words, and 100,000 readings."""
    full = Surroundings(
        floor_cm=(Span.exactly(90), Span.exactly(45)),
        height_cm=Span.exactly(45),
        basking_surface_c=Span.exactly(33),
        warm_side_c=Span(27, 30),
        cool_side_c=Span.exactly(24),
        night_c=Span.exactly(22),
        relative_humidity_pct=Span(40, 60),
        substrate=("coir",),
        water="dish",
        hides=2,
    )
    vague = Surroundings(container="tub", space="small", heated=False, relative_humidity_pct="low")
    yield _recalled("surroundings: told in full, 4,000 draws", "python_regius", full, None, 0.03)
    yield _recalled("surroundings: told in words, a genus, 4,000 draws", "testudo", vague, None, 0.03)
    data = _log_file()
    yield Figure("climate log: reading 100,000 rows", seconds(lambda: read_climate_log(data, "log.csv")), 0.3)
    log = read_climate_log(data, "log.csv")
    yield _recalled("surroundings: judged by 100,000 readings", "python_regius", full, log, 0.3)


def _recalled(name: str, taxon: str, place: Surroundings, log: ClimateLog | None, target_s: float) -> Figure:
    case, evidence = Case(Animal(taxon), history=History(surroundings=place)), load_evidence()
    taken = seconds(lambda: recall_surroundings(case, evidence, np.random.default_rng(1), N_DRAWS, log), 11)
    return Figure(name, taken, target_s)


def _log_file() -> bytes:
    """A reading every five minutes for eleven months, warm days and cool nights."""
    start = dt.datetime(2025, 1, 1)
    lines = ["Time,Temperature warm side (C),RH (%)"]
    for i in range(LOG_ROWS):
        time = start + dt.timedelta(minutes=5 * i)
        warmth = 24 + 5 * np.sin(2 * np.pi * (time.hour + time.minute / 60 - 9) / 24)
        lines.append(f"{time:%Y-%m-%d %H:%M},{warmth + i % 7 / 10:.1f},{50 + i % 90 / 10:.1f}")
    return "\n".join(lines).encode()
