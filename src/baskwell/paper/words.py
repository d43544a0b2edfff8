"""How figures are said to people: rounded to what is known, in words where words are truer."""

import math

from baskwell.science.draws import Against, Summary

TO = " to "


def say(value: float, step: float | None = None) -> str:
    """Say a number: rounded to ``step`` (a power of ten), or to four significant digits.

    >>> say(5000), say(0.9), say(-0.0), say(2.6000001)
    ('5,000', '0.9', '0', '2.6')
    >>> say(2817.3, step=100.0), say(1.41, step=0.1), say(1.0, step=0.1)
    ('2,800', '1.4', '1.0')
    """
    if not math.isfinite(value):
        return "no limit" if math.isinf(value) else "not known"
    if step is None:
        return _significant(value)
    decimals = max(0, -round(math.log10(step)))
    return _no_minus_zero(f"{round(value / step) * step:,.{decimals}f}")


def _significant(value: float, digits: int = 4) -> str:
    if value == 0:
        return "0"
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    told = f"{round(value, decimals):,.{min(decimals, 10)}f}"
    return _no_minus_zero(told.rstrip("0").rstrip(".") if "." in told else told)


def _no_minus_zero(told: str) -> str:
    return told.lstrip("-") if not told.strip("-0.,") else told


def step_of(summary: Summary) -> float | None:
    """The power of ten to which an interval is honestly rounded; None where it has no width.

    >>> step_of(Summary(900, 300, 2800)), step_of(Summary(21.3, 17.2, 26.1))
    (100.0, 1.0)
    """
    width = summary.high - summary.low
    if not width > 0 or not math.isfinite(width):
        return None
    return 10.0 ** max(-6, math.floor(math.log10(width / 8.0)))


def say_got(got: Summary, *, to: str = TO) -> str:
    """Say a median with its 90 % interval, or one number where there is no spread.

    >>> say_got(Summary(912.0, 304.0, 2817.0))
    '900 (300 to 2,800)'
    >>> say_got(Summary(0.405, 0.405, 0.405))
    '0.405'
    """
    step = step_of(got)
    if step is None:
        return _significant(got.median, 3)
    return f"{say(got.median, step)} ({say(got.low, step)}{to}{say(got.high, step)})"


def say_range(low: float | None, high: float | None, *, to: str = TO) -> str:
    """Say a wanted range; an open end is said in words.

    >>> say_range(5000, 10000), say_range(0.9, None), say_range(None, 12), say_range(None, None)
    ('5,000 to 10,000', 'at least 0.9', 'at most 12', 'no limit')
    """
    if low is None and high is None:
        return "no limit"
    if low is None:
        return f"at most {say(high or 0.0)}"
    if high is None:
        return f"at least {say(low)}"
    return say(low) if low == high else f"{say(low)}{to}{say(high)}"


def say_band(low: float | None, high: float | None, *, to: str = TO) -> str:
    """Say a computed band, rounded to what its width bears.

    >>> say_band(0.123456, 0.9), say_band(None, 12.34)
    ('0.12 to 0.90', 'at most 12.34')
    """
    if low is None or high is None:
        return say_range(low, high, to=to)
    step = step_of(Summary(low, low, high))
    return say_range(low, high) if step is None else f"{say(low, step)}{to}{say(high, step)}"


def twentieths(probability: float) -> int:
    """A probability as a whole number of dots out of 20, half rounded up.

    >>> [twentieths(p) for p in (0.0, 0.024, 0.025, 0.5, 1.0)]
    [0, 0, 1, 10, 20]
    """
    return min(20, max(0, math.floor(probability * 20.0 + 0.5)))


def in_twenty(probability: float) -> str:
    """One probability in words.

    >>> in_twenty(0.95), in_twenty(0.004), in_twenty(0.999)
    ('19 in 20', 'under 1 in 20', 'over 19 in 20')
    """
    dots = twentieths(probability)
    if dots == 0:
        return "under 1 in 20"
    return "over 19 in 20" if dots == 20 else f"{dots} in 20"


def about_in_twenty(chance: Summary) -> str:
    """A probability with its interval in words.

    >>> about_in_twenty(Summary(0.72, 0.65, 0.8))
    'about 13 to 16 in 20'
    >>> about_in_twenty(Summary(0.01, 0.0, 0.02)), about_in_twenty(Summary(0.05, 0.01, 0.1))
    ('under 1 in 20', 'at most 2 in 20')
    """
    low, high = twentieths(chance.low), twentieths(chance.high)
    if low == high:
        told = in_twenty(chance.median if twentieths(chance.median) == low else chance.low)
        return told if told.startswith(("under", "over")) else f"about {told}"
    if low == 0:
        return f"at most {high} in 20" if high < 20 else "anything from 0 to 20 in 20"
    return f"about {low} to {high} in 20"


def say_outside(chances: Against) -> str:
    """Which side of the wanted range it lay on, and how likely; empty where it lay inside.

    >>> say_outside(Against(0.96, 0.04, 0.0)), say_outside(Against(0.0, 0.92, 0.08))
    ('too low, 19 in 20', 'inside, 18 in 20')
    """
    side, chance = max(
        (("too low", chances.below), ("inside", chances.inside), ("too high", chances.above)),
        key=lambda pair: pair[1],
    )
    return f"{side}, {in_twenty(chance)}"


def join_words(words: tuple[str, ...], last: str = "and") -> str:
    """Join words as a sentence does.

    >>> join_words(("a",)), join_words(("a", "b", "c")), join_words(("a", "b"), last="or")
    ('a', 'a, b and c', 'a or b')
    """
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def sentence(text: str) -> str:
    """The same text with a capital first and a full stop last.

    >>> sentence("no discharge from the nose"), sentence("Is it soft?"), sentence("")
    ('No discharge from the nose.', 'Is it soft?', '')
    """
    text = text.strip()
    return capital(text) + ("" if not text or text.endswith((".", "!", "?")) else ".")


def capital(text: str) -> str:
    """The same text with a capital first, the rest as it is.

    >>> capital("UV lamp too old"), capital("vitamin A")
    ('UV lamp too old', 'Vitamin A')
    """
    return text[:1].upper() + text[1:]


def uncapital(text: str) -> str:
    """The same text with a small first letter, abbreviations left as they are.

    >>> uncapital("Crude fibre"), uncapital("UV index"), uncapital("D3")
    ('crude fibre', 'UV index', 'D3')
    """
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def count(number: int, singular: str, plural: str = "") -> str:
    """A counted noun.

    >>> count(1, "sign"), count(3, "sign"), count(2, "diagnosis", "diagnoses")
    ('1 sign', '3 signs', '2 diagnoses')
    """
    return f"{number:,} {singular if number == 1 else plural or singular + 's'}"
