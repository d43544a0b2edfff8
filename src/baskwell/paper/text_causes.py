"""The part of the text that tells why: causes, what may be true together, faults, questions, tests."""

from baskwell.paper import telling
from baskwell.paper.marks import Dots
from baskwell.paper.plain import Page
from baskwell.paper.sources import Sources
from baskwell.paper.words import capital, join_words, sentence
from baskwell.science.causes.ranking import Cause, Question, Ranking, Reason

QUESTIONS_TOLD = 3
SETS_TOLD = 4


def why(page: Page, ranking: Ranking, sources: Sources, full: bool) -> None:
    """The causes in the explaining order, each with dots, words and reasons."""
    page.heading("Why")
    _key(page, ranking)
    for place, cause in telling.placed_causes(ranking):
        page.gap()
        _cause_row(page, place, cause, len(ranking.signs_present))
        most = (
            (telling.TOP_REASONS, telling.TOP_REASONS)
            if full
            else telling.REASONS_BY_PLACE[min(place, 3) - 1]
        )
        for side, reasons, count in (
            ("for", cause.reasons_for, most[0]),
            ("against", cause.reasons_against, most[1]),
        ):
            _reasons(page, side, reasons[:count], sources if full else None)
        if place <= 3 or full:
            _settled(page, cause)
    page.gap()
    if ranking.causes:
        page.say(sentence(telling.rest_words(ranking)), indent=2)
        page.say(telling.ODDS_KEY, indent=2, paint="soft")
    for note in ranking.notes:
        page.item("*", note)


def _key(page: Page, ranking: Ranking) -> None:
    marks = page.style.marks
    if not telling.listed_causes(ranking):
        page.say("No cause stands out: there is nothing here that needs explaining.", indent=2)
        return
    page.say(
        "In the order of how much of what is seen each one explains. The dots say how likely it is: "
        f"{marks.full} up to the low end, {marks.hatched} up to the high end of the 90 % interval.",
        indent=2,
        paint="soft",
    )


def _cause_row(page: Page, place: int, cause: Cause, signs: int) -> None:
    marks = page.style.marks
    dots = Dots.of(cause.posterior).drawn(marks.full, marks.hatched, marks.empty)
    page.say(f"{place}. {capital(cause.name)}", hang=3, paint="bold")
    page.picture(dots, telling.probability_words(cause), indent=3)
    page.say(
        f"{telling.explains_words(cause, signs)}; {telling.first_words(cause)}; "
        f"number {cause.rank_by_posterior} by probability",
        indent=3,
    )


def _reasons(page: Page, side: str, reasons: tuple[Reason, ...], sources: Sources | None) -> None:
    for reason in reasons:
        page.say(f"{side}: {reason.text.rstrip('.')} ({telling.odds_words(reason)})", indent=3, hang=2)
        if sources:
            page.said(sources, reason.said_by, indent=5)


def _settled(page: Page, cause: Cause) -> None:
    for what in telling.settling(cause):
        page.say(f"would settle it: {what}", indent=3, hang=2)


def together(page: Page, ranking: Ranking) -> None:
    """The most probable sets of causes."""
    if ranking.joint_sets:
        page.heading("May be true together")
        for joint in ranking.joint_sets[:SETS_TOLD]:
            page.item("-", capital(telling.joint_words(joint)))


def faults(page: Page, ranking: Ranking, sources: Sources, full: bool) -> None:
    """What to put right, the fault that accounts for most first."""
    told = telling.faults_told(ranking, full)
    if not told:
        return
    page.heading("What to put right, most important first")
    for number, fault in enumerate(told, start=1):
        feeds = join_words(tuple(sources.condition(condition) for condition in fault.feeds))
        page.say(f"{number}. {capital(fault.name)}: {telling.fault_words(fault)}", indent=2, hang=3)
        page.say(f"{sentence(fault.because)} Leads to: {feeds}.", indent=5, paint="soft")


def questions(page: Page, ranking: Ranking) -> None:
    """The best question with what each answer would do, and those after it."""
    if not ranking.questions:
        return
    first, *others = ranking.questions
    page.heading("What to ask, look at or test next")
    _question(page, first)
    if others:
        page.gap()
        page.say("Then:", indent=2, paint="soft")
        for question in others[:QUESTIONS_TOLD]:
            page.item("-", question.text)


def _question(page: Page, question: Question) -> None:
    page.say(question.text, indent=2, paint="act")
    page.say(question.why, indent=2)
    for answers, effect in telling.answers_by_effect(question):
        page.item("-", f"{answers}: {effect}", indent=4)


def second_pass(page: Page, before: Ranking, after: Ranking) -> None:
    """What the tests change: one line a cause with its place before, and the reasons from tests."""
    page.heading("Why, once the test results are counted")
    places = telling.places(before)
    for place, cause in telling.placed_causes(after):
        moved = telling.moved_words(place, places.get(cause.condition_id))
        told = "; ".join(part for part in (telling.probability_words(cause), moved) if part)
        page.say(f"{place}. {capital(cause.name)}: {told}", hang=4)
        _reasons(page, "for", telling.from_tests(cause.reasons_for), None)
        _reasons(page, "against", telling.from_tests(cause.reasons_against), None)
    page.say(sentence(telling.rest_words(after)), indent=2)
    for note in after.notes:
        if note not in before.notes:
            page.item("*", note)
