"""Find statements of one case that cannot, or can hardly, be true together.

Each check yields ``(path, sentence, certain)``: certain where the statements contradict each other by
what the words mean (the file is refused), not certain where it is only unlikely (a warning).
"""

from collections.abc import Iterator

from baskwell.evidence import Evidence
from baskwell.science.case.model import Animal, Case, Event, Surroundings, Treatment
from baskwell.science.case.plausible import implausible_sizes
from baskwell.science.case.problem import Path
from baskwell.science.case.span import Span
from baskwell.science.case.units import tidy
from baskwell.science.case.vocabulary import in_words

Conflict = tuple[Path, str, bool]

# Two statements of one floor that differ by more than this are two floors; judgement: tape and rounding.
_FLOOR_TOLERANCE = 0.15


def find_conflicts(case: Case, evidence: Evidence) -> Iterator[Conflict]:
    """Yield every conflict within a case, the certain ones and the doubtful ones.

    >>> from baskwell.evidence import load_evidence
    >>> animal = Animal(taxon="python_regius", group_size=2, number_dead=3)
    >>> [path for path, _, certain in find_conflicts(Case(animal), load_evidence()) if certain]
    [('animal', 'number_dead')]
    """
    yield from _group(case.animal)
    yield from implausible_sizes(case.animal, evidence)
    yield from _sex_and_age(case)
    yield from _verdicts(case)
    yield from _surroundings(case)
    yield from _lamps(case, evidence)
    yield from _winter_rest(case)
    yield from _times(case)
    yield from _labels(case, evidence)
    yield from _signs(case)
    yield from _meals(case)
    yield from _treatments(case)


def _group(animal: Animal) -> Iterator[Conflict]:
    size = animal.group_size
    for name in ("number_affected", "number_dead"):
        number: int | None = getattr(animal, name)
        if size is not None and number is not None and number > size:
            sentence = f"{number} of a group of {size} cannot be. Mend one of {name} and group_size."
            yield ("animal", name), sentence, True


def _sex_and_age(case: Case) -> Iterator[Conflict]:
    animal, history = case.animal, case.history
    if animal.sex == "male" and animal.reproductive in {"gravid", "laid"}:
        yield (
            ("animal", "reproductive"),
            f'"{animal.reproductive}" does not go with a male. Check both.',
            False,
        )
    if _above(history.years, animal.age_years):
        yield ("history", "years"), "it was kept for longer than it has lived. Check both.", False
    if animal.age_class == "hatchling" and _above(animal.age_years, Span.exactly(2)):
        yield ("animal", "age_class"), "a hatchling of more than two years. Check both.", False


def _verdicts(case: Case) -> Iterator[Conflict]:
    history = case.history
    pairs = (
        ("judged_poor", set(history.judged_good) & set(history.judged_poor), "found right and found wrong"),
        (
            "denied_exposures",
            set(history.stated_exposures) & set(history.denied_exposures),
            "stated and denied",
        ),
    )
    for name, both, words in pairs:
        if both:
            yield (
                ("history", name),
                f"{in_words(sorted(both))} is {words} at once. Keep one of the two.",
                True,
            )
    if history.wild_caught is False and history.source == "wild":
        yield ("history", "wild_caught"), "it came from the wild but is said not to be wild-caught.", False


def _surroundings(case: Case) -> Iterator[Conflict]:
    places: list[tuple[Path, Surroundings]] = []
    if case.history.surroundings is not None:
        places.append((("history", "surroundings"), case.history.surroundings))
    places += [(("history", "periods", place), one) for place, one in enumerate(case.history.periods)]
    for path, one in places:
        yield from _floor(path, one)
        yield from _warmth(path, one)


def _floor(path: Path, one: Surroundings) -> Iterator[Conflict]:
    if one.floor_cm is None or one.floor_m2 is None:
        return
    length, width = one.floor_cm
    area = Span(_product(length.low, width.low), _product(length.high, width.high))
    if _apart(area, one.floor_m2, _FLOOR_TOLERANCE):
        stated, made = tidy(one.floor_m2.middle), tidy(area.middle)
        sentence = f"{stated} m2 are stated, but floor_cm makes about {made} m2. Keep one of the two."
        yield (*path, "floor_m2"), sentence, False


def _product(a: float | None, b: float | None) -> float | None:
    return None if a is None or b is None else a * b / 10_000


def _warmth(path: Path, one: Surroundings) -> Iterator[Conflict]:
    if _above(one.cool_side_c, one.warm_side_c):
        yield (*path, "cool_side_c"), "the cool side is warmer than the warm side. Check both.", False
    if _above(one.warm_side_c, one.basking_surface_c):
        yield (
            (*path, "basking_surface_c"),
            "the basking place is cooler than the warm side. Check both.",
            False,
        )
    humidity = one.relative_humidity_pct
    if isinstance(humidity, Span) and humidity.high is not None and 0 < humidity.high <= 1:
        percent = tidy(humidity.high * 100)
        sentence = f"{tidy(humidity.high)} % is drier than any desert. If a share was meant, write {percent}."
        yield (*path, "relative_humidity_pct"), sentence, False


def _lamps(case: Case, evidence: Evidence) -> Iterator[Conflict]:
    lights, place = case.history.lights, case.history.surroundings
    kinds = {light.kind for light in lights}
    if "none" in kinds and len(kinds) > 1:
        yield ("history", "lights"), 'a lamp "none" beside other lamps. Take one of them out.', False
    if place is None or place.heated is not False:
        return
    for number, light in enumerate(lights):
        burns = light.hours_per_day is not None and (light.hours_per_day.high or 0) > 0
        lamp = evidence.lamps.get(light.kind)
        if burns and lamp is not None and lamp.gives_heat:
            sentence = f"{light.kind} gives heat, but heated = false says that there is no heat. Check both."
            yield ("history", "lights", number, "kind"), sentence, False


def _winter_rest(case: Case) -> Iterator[Conflict]:
    for place, rest in enumerate(case.history.winter_rest):
        path: Path = ("history", "winter_rest", place)
        if _above(rest.mass_after_g, rest.mass_before_g):
            yield (
                (*path, "mass_after_g"),
                "it came out of the winter rest heavier than it went in. Check.",
                False,
            )
        if rest.done is False and (rest.weeks is not None or rest.outcome is not None):
            yield (*path, "done"), "a winter rest that was not done has weeks or an outcome. Check.", False


def _times(case: Case) -> Iterator[Conflict]:
    timed: list[tuple[Path, Event | Treatment]] = [
        *((("history", "events", place), one) for place, one in enumerate(case.history.events)),
        *((("history", "treatments", place), one) for place, one in enumerate(case.history.treatments)),
    ]
    for path, one in timed:
        yield from _time(path, one, case)


def _time(path: Path, one: Event | Treatment, case: Case) -> Iterator[Conflict]:
    if one.from_ is not None and one.to is not None and one.from_ > one.to:
        yield (*path, "from"), f"it begins on {one.from_} and ends before, on {one.to}. Swap the two.", True
    said = [one.days_before, one.weeks_before, one.months_before, one.date, one.from_ or one.to]
    if sum(when is not None for when in said) > 1:
        yield path, "the time is stated in more than one way. Keep the one that is surest.", False
    exam = case.exam.date
    if exam is not None and one.date is not None and one.date > exam:
        yield (*path, "date"), f"{one.date} lies after the examination on {exam}. Check both.", False


def _labels(case: Case, evidence: Evidence) -> Iterator[Conflict]:
    fed = {item.food for item in case.history.diet} | {meal.food for meal in case.days.meals}
    for name in case.labels:
        if name not in fed:
            yield ("label", name), "no food of the diet names this label, so it is not used.", False
        if name in evidence.foods or name in evidence.labels:
            yield ("label", name), "this name is also a food of the tables. Give the label another.", False


def _signs(case: Case) -> Iterator[Conflict]:
    exam = case.exam
    seen: set[tuple[str, str | None]] = set()
    for place, sign in enumerate(exam.signs):
        path: Path = ("exam", "signs", place)
        if sign.sign in exam.absent and sign.severity != 0:
            yield path, f"{sign.sign} is found here and named in exam.absent. Take one of them out.", False
        if (sign.sign, sign.side) in seen:
            yield path, f"{sign.sign} stands twice. Join the two entries.", False
        seen.add((sign.sign, sign.side))


def _meals(case: Case) -> Iterator[Conflict]:
    for place, meal in enumerate(case.days.meals):
        if _above(meal.left_g, meal.offered_g):
            yield ("days", "meals", place, "left_g"), "more was left than was offered. Was it wet?", False
    if case.exam.date is not None and case.exam.month not in {None, case.exam.date.month}:
        yield ("exam", "month"), f"the date {case.exam.date} lies in another month. Check both.", False


def _treatments(case: Case) -> Iterator[Conflict]:
    agents = [one.agent.casefold() for one in case.history.treatments]
    if "none" in agents and len(agents) > 1:
        yield ("history", "treatments"), 'agent "none" stands beside other treatments. Take one out.', False


def _above(one: Span | None, other: Span | None) -> bool:
    """Tell whether all of one span lies above all of another."""
    if one is None or other is None or one.low is None or other.high is None:
        return False
    return one.low > other.high


def _apart(one: Span, other: Span, tolerance: float) -> bool:
    """Tell whether two spans stay apart even when each end may be off by a share of itself."""
    low_one, high_one = one.low or 0.0, one.high
    low_other, high_other = other.low or 0.0, other.high
    above = high_other is not None and low_one > high_other * (1 + tolerance)
    below = high_one is not None and low_other > high_one * (1 + tolerance)
    return above or below
