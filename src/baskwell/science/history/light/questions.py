"""Which question about a light would settle most."""

from collections.abc import Sequence

import numpy as np

from baskwell.science.draws import Draws
from baskwell.science.history.light.lamp import LampLine
from baskwell.science.history.light.reading import PANES

ASK_SOURCE = (
    "Has it had a UVB lamp or real sunshine, not through glass? Which lamp, how old, how far from its back, "
    "and what is between?"
)
ASK_UNLISTED = "Is there a UVB lamp besides the lights named? Which one, and when was it bought?"
ASK_METER = "Can you hold a UV index meter where its back is when it basks? What does it show?"
ASK_NEAREST = "How near to the lamp can it come when it climbs or stands up, in cm?"
ASK_HOURS = "How many hours a day are the lights on, and does daylight reach it from a window?"
ASK_SHADE = "Is there always shade that it can reach?"
ASK_LATITUDE = "At about what latitude is it kept outdoors, and in which months?"

_WORDS = {
    "age_months": "When was the UVB lamp bought?",
    "distance_cm": "How many cm are between the UVB lamp and its back where it basks?",
    "barrier": "What is between the UVB lamp and the animal: nothing, mesh, fine mesh, glass or plastic?",
    "kind": "What is printed on the UVB lamp: its kind, percent or strength?",
}


def lamp_questions(line: LampLine) -> tuple[str, ...]:
    """Questions about one UVB lamp, that first whose answer would narrow its UV index most.

    The UV index is a product, so what each unknown factor adds to its spread is that factor's squared
    coefficient of variation. A meter reading is asked for last: it settles all at once but needs a meter.
    """
    if "uv_index_measured" in line.stated or line.is_sun or line.barrier in PANES:
        return ()
    spread = {
        "age_months": _spread(line.left),
        "distance_cm": _spread(line.reach),
        "barrier": _spread(line.passed),
        "kind": _spread(line.uv_index_new / np.maximum(line.reach * line.passed, 1e-9)),
    }
    told = set(line.stated) | (set() if line.kind.endswith("unspecified") else {"kind"})
    asked = sorted((name for name in spread if name not in told), key=lambda name: -spread[name])
    return (*(_WORDS[name] for name in asked), ASK_METER)


def questions_of(lines: Sequence[LampLine]) -> tuple[str, ...]:
    """Questions about all UVB lamps, those of the strongest lamp first; none twice."""
    lamps = sorted((line for line in lines if line.gives_uvb), key=lambda line: -float(line.uv_index.mean()))
    asked = [question for line in lamps for question in lamp_questions(line)]
    ordered = [question for question in asked if question != ASK_METER]
    return tuple(dict.fromkeys([*ordered, *(question for question in asked if question == ASK_METER)]))


def _spread(factor: Draws) -> float:
    mean = float(factor.mean())
    return float(factor.var()) / mean**2 if mean > 0 else 0.0
