"""A review as text for a terminal: what matters now first, then found, lived in, why, what to ask."""

from collections.abc import Iterable

from baskwell.paper import telling
from baskwell.paper.marks import Dots, bar_of
from baskwell.paper.plain import Page, Style
from baskwell.paper.words import join_words, say_got, sentence
from baskwell.science.causes.ranking import Cause, Question, Ranking, Reason
from baskwell.science.history.finding import Finding
from baskwell.science.history.label import LabelReading
from baskwell.science.review import Review
from baskwell.science.telling import SignLine

BAR_CELLS = 40
QUESTIONS_TOLD = 3
_VERDICT_PAINT = {"does not fit": "out", "doubtful": "bold", "fits": "act", "not known": "bold"}
_ALL_OF_IT = "What it ate and where it lived: nothing was told, so nothing is known."


def review_as_text(review: Review, style: Style | None = None) -> str:
    """Render a review as text, no line longer than ``style.width`` (80 cells by default)."""
    page = Page(style or Style())
    _top(page, review)
    _found(page, review)
    _lived_in(page, review)
    for label in review.labels:
        _label(page, label)
    _why(page, review.ranking)
    _together(page, review.ranking)
    _faults(page, review.ranking)
    _questions(page, review.ranking)
    if review.ranking_with_tests is not None:
        _second_pass(page, review.ranking_with_tests)
    _gaps(page, review)
    _bottom(page, review)
    return page.text()


def label_as_text(label: LabelReading, style: Style | None = None) -> str:
    """Render one label reading as text."""
    page = Page(style or Style())
    _label(page, label)
    return page.text()


def _top(page: Page, review: Review) -> None:
    page.say(review.who, paint="soft")
    page.gap()
    page.say(review.headline, paint="bold")
    for flag in review.flags:
        page.gap()
        mark = "VET NOW:" if flag.level == "vet now" else f"{flag.level.capitalize()}:"
        page.say(f"{mark} {flag.sentence}", hang=2, paint="out" if flag.level == "vet now" else "bold")
        page.say(f"Who says so: {flag.said_by}", indent=2, hang=2, paint="soft")


def _found(page: Page, review: Review) -> None:
    page.heading("What was found")
    if not review.signs:
        page.say("No sign was written down.", indent=2)
    for sign in review.signs:
        _sign(page, sign)
    page.say(telling.absent_words(review.ranking), indent=2, hang=2, paint="soft")


def _sign(page: Page, sign: SignLine) -> None:
    urgency = f" [{sign.urgency}]" if sign.urgency else ""
    page.say(f"{sentence(telling.sign_words(sign)).rstrip('.')}{urgency}", indent=2, hang=2)
    detail = telling.sign_detail(sign)
    if detail:
        page.say(detail, indent=4, hang=2, paint="soft")


def _lived_in(page: Page, review: Review) -> None:
    page.heading("What it lived in")
    if not review.findings:
        page.say(_ALL_OF_IT, indent=2)
    for verdict, findings in telling.findings_by_verdict(review):
        page.gap()
        page.say(f"{verdict.capitalize()} ({len(findings)})", paint=_VERDICT_PAINT[verdict])
        for finding in findings:
            _finding(page, finding)


def _finding(page: Page, finding: Finding) -> None:
    name = sentence(finding.name).rstrip(".")
    chance = telling.chance_words(finding)
    page.say(f"{name}: {chance}" if chance else name, indent=2, hang=2)
    if finding.got is not None or finding.wanted is not None:
        got = f"; got {telling.got_words(finding)}" if finding.got is not None else ""
        page.say(f"wanted {telling.wanted_words(finding)}{got}", indent=4, hang=2)
    if finding.verdict != "fits":
        _bar(page, finding)
        page.say(finding.sentence, indent=4, hang=2, paint="soft")
    if finding.verdict == "not known" and finding.ask:
        page.item("?", finding.ask, indent=4)


def _bar(page: Page, finding: Finding) -> None:
    bar, marks = bar_of(finding), page.style.marks
    if bar is not None:
        cells = min(BAR_CELLS, page.style.width - 8)
        page.lines.append("    " + bar.drawn(cells, marks.line, marks.wanted, marks.got, marks.median))


def _label(page: Page, label: LabelReading) -> None:
    page.heading(f"What is in the feed: {label.label_id.replace('_', ' ')}")
    page.say("Shares as fed, most likely (90 % interval):", indent=2, paint="soft")
    for part in label.ingredients:
        note = f"; {part.note}" if part.note else ""
        page.item("-", f"{part.printed}: {telling.share_words(part)}{note}")
    page.say("What an animal gets from it:", indent=2, paint="soft")
    for nutrient in label.nutrients:
        got = (
            "not knowable"
            if nutrient.got is None
            else say_got(nutrient.got) + telling.unit_words(nutrient.unit)
        )
        note = f"; {nutrient.note}" if nutrient.note else ""
        page.item("-", f"{nutrient.name}: {got}{note}")
    _listed(page, "!", label.conflicts)
    _listed(page, "*", label.notes)
    _listed(page, "?", tuple(f"not knowable from the label: {what}" for what in label.not_knowable))


def _listed(page: Page, mark: str, texts: Iterable[str]) -> None:
    for text in texts:
        page.item(mark, text)


def _why(page: Page, ranking: Ranking) -> None:
    page.heading("Why")
    marks = page.style.marks
    if not ranking.causes:
        page.say("No cause stands out: there is nothing here that needs explaining.", indent=2)
    else:
        page.say(
            "In the order of how much of what is seen each one explains. The dots say how likely it is: "
            f"{marks.full} up to the low end, {marks.hatched} up to the high end of the 90 % interval.",
            indent=2,
            paint="soft",
        )
    for cause in telling.top_causes(ranking):
        page.gap()
        _cause(page, cause, len(ranking.signs_present))
    page.gap()
    if ranking.causes:
        page.say(sentence(telling.rest_words(ranking)), indent=2)
        page.say(telling.ODDS_KEY, indent=2, paint="soft")
    _listed(page, "*", ranking.notes)


def _cause(page: Page, cause: Cause, signs: int) -> None:
    _cause_row(page, cause, signs)
    _reasons(page, "for", cause.reasons_for)
    _reasons(page, "against", cause.reasons_against)
    if cause.settled_by:
        page.say(f"would settle it: {join_words(cause.settled_by, last='or')}", indent=3, hang=2)


def _cause_row(page: Page, cause: Cause, signs: int) -> None:
    marks = page.style.marks
    dots = Dots.of(cause.posterior).drawn(marks.full, marks.hatched, marks.empty)
    page.say(f"{cause.rank_by_explaining}. {sentence(cause.name).rstrip('.')}", hang=3, paint="bold")
    page.picture(dots, telling.probability_words(cause), indent=3)
    page.say(
        f"{telling.explains_words(cause, signs)}; {telling.first_words(cause)}; "
        f"number {cause.rank_by_posterior} by probability",
        indent=3,
    )


def _reasons(page: Page, side: str, reasons: tuple[Reason, ...]) -> None:
    for reason in reasons[: telling.TOP_REASONS]:
        page.say(f"{side}: {reason.text} ({telling.odds_words(reason)})", indent=3, hang=2)


def _together(page: Page, ranking: Ranking) -> None:
    if ranking.joint_sets:
        page.heading("May be true together")
        _listed(page, "-", (sentence(telling.joint_words(joint)).rstrip(".") for joint in ranking.joint_sets))


def _faults(page: Page, ranking: Ranking) -> None:
    faults = telling.faults_told(ranking)
    if not faults:
        return
    page.heading("What to put right, most important first")
    for number, fault in enumerate(faults, start=1):
        page.say(
            f"{number}. {sentence(fault.name).rstrip('.')}: {telling.fault_words(fault)}", indent=2, hang=3
        )
        page.say(f"{sentence(fault.because)} Feeds: {join_words(fault.feeds)}.", indent=5, paint="soft")


def _questions(page: Page, ranking: Ranking) -> None:
    if not ranking.questions:
        return
    first, *others = ranking.questions
    page.heading("What to ask, look at or test next")
    _question(page, first)
    if others[:QUESTIONS_TOLD]:
        page.gap()
        page.say("Then:", indent=2, paint="soft")
        _listed(page, "-", (question.text for question in others[:QUESTIONS_TOLD]))


def _question(page: Page, question: Question) -> None:
    page.say(question.text, indent=2, paint="act")
    page.say(question.why, indent=2)
    for answer, effect in question.answers:
        page.item("-", f"{answer}: {effect}", indent=4)


def _second_pass(page: Page, ranking: Ranking) -> None:
    page.heading("Why, once the test results are counted")
    for cause in telling.top_causes(ranking):
        page.gap()
        _cause_row(page, cause, len(ranking.signs_present))
        _reasons(page, "for", telling.from_tests(cause.reasons_for))
        _reasons(page, "against", telling.from_tests(cause.reasons_against))
    page.gap()
    page.say(sentence(telling.rest_words(ranking)), indent=2)
    _listed(page, "*", ranking.notes)


def _gaps(page: Page, review: Review) -> None:
    if review.gaps:
        page.heading("What could not be used")
        _listed(page, "-", review.gaps)


def _bottom(page: Page, review: Review) -> None:
    page.heading("Bounds")
    page.say(review.caution)
    page.gap()
    page.say(telling.versions_words(review), paint="soft")
