"""Findings from draws: the probability, the verdict, and one plain sentence."""

from dataclasses import dataclass, replace

import numpy as np

from baskwell.science.draws import Against, Draws, Summary, summarise
from baskwell.science.history.finding import Finding, Topic, Verdict, Wanted, judge
from baskwell.science.history.surroundings.scene import Scene
from baskwell.science.history.surroundings.wants import Want

_TOPIC_WORDS: dict[Topic, tuple[str, ...]] = {
    "heat": ("heat", "husbandry"),
    "humidity": ("humidity", "husbandry"),
    "space": ("housing", "husbandry"),
    "substrate": ("substrate", "housing", "husbandry"),
    "water": ("housing", "husbandry"),
    "hygiene": ("hygiene", "husbandry"),
}
_WORTH_SAYING_PCT = 10
WHEN = {"": "", "summer": " in summer", "winter": " in winter", "before": " earlier"}


@dataclass(frozen=True)
class Quantity:
    """One thing to be judged: its stable id, topic, name for a sentence, unit and the question for it."""

    finding_id: str
    topic: Topic
    name: str
    unit: str
    ask: str


def figure(value: float) -> str:
    """A number as a person writes it: three digits that count, no trailing zeros.

    >>> [figure(value) for value in (27.96, 0.2323, 118.4, 3.0)]
    ['28', '0.23', '118', '3']
    """
    if value == 0 or not np.isfinite(value):
        return f"{value:g}"
    digits = max(0, 1 - int(np.floor(np.log10(abs(value)))))
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def amount(got: Summary, unit: str) -> str:
    """A summary in words: "about 28 °C (24 to 32)", the range left out where it says nothing more.

    >>> amount(Summary(28.0, 24.0, 32.0), "°C")
    'about 28 °C (24 to 32)'
    """
    middle, low, high = figure(got.median), figure(got.low), figure(got.high)
    return f"{middle} {unit}" if low == high else f"about {middle} {unit} ({low} to {high})"


def asked_for(wanted: Wanted, unit: str) -> str:
    """The wanted range in words.

    >>> asked_for(Wanted(26.0, 29.0, "common practice", "C"), "°C")
    '26 to 29 °C is wanted (common practice)'
    """
    return f"{_range(wanted.low, wanted.high)} {unit} is wanted ({wanted.said_by})"


def _range(low: float | None, high: float | None) -> str:
    if low is None:
        return f"at most {high:g}"
    if high is None:
        return f"at least {low:g}"
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def measured(
    scene: Scene, what: Quantity, draws: Draws | None, want: Want | None, told: str, *more: str
) -> Finding:
    """The finding on one quantity.

    ``draws`` None = not known. ``told`` says where the figure comes from; ``more`` are further
    sentences. Judgements without figures shift the draws a little (``judged_ratio``), never the
    verdict of something unknown.
    """
    if draws is None:
        return unknown(scene, what, want)
    if want is not None:
        draws = _nudged(scene, what, draws, want)
    got = summarise(draws)
    chances = want.compare(draws) if want else None
    verdict = judge(chances)
    sentence = " ".join([_sentence(scene, what, got, chances, verdict, want, told), *more])
    return Finding(
        named(what.finding_id, scene.when), what.topic, what.name + WHEN[scene.when], what.unit,
        want.wanted if want else None, got, chances, verdict, sentence, "", draws,
    )  # fmt: skip


def unknown(scene: Scene, what: Quantity, want: Want | None = None) -> Finding:
    """The finding on a quantity of which nothing is known: never fine, and asked for."""
    wanted = want.wanted if want else None
    parts = [f"The {what.name}{WHEN[scene.when]} is not known."]
    if wanted:
        parts.append(f"{_upper(asked_for(wanted, what.unit))}.")
    if judged := scene.judged(*_TOPIC_WORDS[what.topic]):
        parts.append(
            f"It was judged {'right' if judged > 0 else 'wrong'} without figures, which tells little."
        )
    name = what.name + WHEN[scene.when]
    return Finding(
        named(what.finding_id, scene.when), what.topic, name, what.unit, wanted, None, None, "not known",
        " ".join(parts), what.ask,
    )  # fmt: skip


def without_rule(scene: Scene, what: Quantity, draws: Draws, told: str) -> Finding:
    """The finding on a quantity that is known, but of which no table says what is needed."""
    return measured(scene, what, draws, None, told)


def named(finding_id: str, when: str) -> str:
    """The id of a finding, with the season or time where it is not the usual place.

    >>> named("night_c", ""), named("night_c", "winter")
    ('night_c', 'night_c@winter')
    """
    return f"{finding_id}@{when}" if when else finding_id


def plain(
    scene: Scene, what: Quantity, verdict: Verdict, sentence: str, said: Wanted | None = None
) -> Finding:
    """A finding in words alone, without a figure."""
    return Finding(
        named(what.finding_id, scene.when), what.topic, what.name + WHEN[scene.when], what.unit, said, None,
        None, verdict, sentence,
    )  # fmt: skip


def _nudged(scene: Scene, what: Quantity, draws: Draws, want: Want) -> Draws:
    """Let a judgement without figures multiply the odds of fitting by the judged ratio.

    With p the share of favoured worlds and r the ratio, a world of the other side gives way to a
    favoured one with probability p (r - 1) / (r p + 1 - p); then the odds are r p / (1 - p).
    """
    direction = scene.judged(*_TOPIC_WORDS[what.topic])
    fits = want.inside(draws)
    favoured = fits if direction > 0 else ~fits
    if direction == 0 or favoured.all() or not favoured.any():
        return draws
    rng, ratio = scene.streams["judged"], scene.tables.prior("judged_ratio").mode
    p = float(favoured.mean())
    gone = ~favoured & (rng.random(draws.size) < p * (ratio - 1.0) / (ratio * p + 1.0 - p))
    moved = draws.copy()
    moved[gone] = rng.choice(draws[favoured], int(gone.sum()))
    return moved


def _sentence(
    scene: Scene,
    what: Quantity,
    got: Summary,
    chances: Against | None,
    verdict: Verdict,
    want: Want | None,
    told: str,
) -> str:
    name, size = f"The {what.name}{WHEN[scene.when]}", amount(got, what.unit)
    if want is None or chances is None:
        return f"{name} was {size} {told}; no table says what a {scene.kind} needs."
    wish = asked_for(want.wanted, what.unit)
    if verdict == "fits":
        return f"{name} fits: {size} {told}; {wish}."
    if verdict == "does not fit":
        return f"{name} was too {'low' if chances.below >= chances.above else 'high'}: {size} {told}; {wish}."
    return f"{name} may have been {_ways(chances)}: {size} {told}; {wish}."


def _ways(chances: Against) -> str:
    """In which direction it may be off, with the chance: both where neither is small.

    >>> _ways(Against(0.5, 0.42, 0.08)), _ways(Against(0.2, 0.6, 0.2))
    ('too low (chance 50 %)', 'too low (chance 20 %) or too high (20 %)')
    """
    low, high = round(100 * chances.below), round(100 * chances.above)
    if min(low, high) >= _WORTH_SAYING_PCT:
        return f"too low (chance {low} %) or too high ({high} %)"
    return f"too low (chance {low} %)" if low >= high else f"too high (chance {high} %)"


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def with_sentence(finding: Finding, more: str) -> Finding:
    """The finding with one sentence more."""
    return replace(finding, sentence=f"{finding.sentence} {more}") if more else finding
