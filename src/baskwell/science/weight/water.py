"""Mass and water: signs of thirst beside a loss, and the loss of a winter rest."""

from collections.abc import Iterator

from baskwell.evidence import Evidence
from baskwell.evidence.covers import covers
from baskwell.science.case.model import Case, WinterRest
from baskwell.science.causes.ranking import Flag
from baskwell.science.weight.alarms import MAY_BE_OVER, LossCheck

SET = "dehydration"
WEEKS_PER_MONTH = 52 / 12
ROUNDING = 1 + 1e-9


def water_cautions(case: Case, evidence: Evidence, checks: tuple[LossCheck, ...]) -> tuple[str, ...]:
    """What thirst does to mass and condition; empty without a sign of it or a fast loss.

    >>> from baskwell.evidence import load_evidence
    >>> from baskwell.science.case.model import Animal, Exam, SignSeen
    >>> exam = Exam(signs=(SignSeen("sunken_eyes", severity=2),))
    >>> told = water_cautions(Case(Animal("trachemys_scripta"), exam=exam), load_evidence(), ())
    >>> "about 8 %" in told[0]
    True
    """
    members = {row.sign_id for row in evidence.causes.sign_sets if row.set_id == SET}
    seen = [sign for sign in case.exam.signs if sign.sign in members and sign.severity != 0]
    fast = any(check.chance >= MAY_BE_OVER and check.days <= 7 for check in checks)
    if not seen and not fast:
        return ()
    told = [_of_sign(evidence, severity) for severity in _worst([sign.severity for sign in seen])]
    if fast:
        told.append("A fast loss may be water: hydrate first, weigh again before and after the soak.")
    scored = evidence.body_condition["dehyd_evidence"]
    return (*told, f"Score skin, eyes and mass, not how wet the mouth is ({scored.source}).")


def _worst(severities: list[int | None]) -> list[int]:
    """The most severe sign counts; one not scored counts as severe until it is."""
    return [max(3 if one is None else one for one in severities)] if severities else []


def _of_sign(evidence: Evidence, severity: int) -> str:
    row = evidence.body_condition[f"dehyd_{severity}"]
    share = f"about {row.target:g} %" if row.target is not None else f"{row.low_limit:g} % or more"
    return (
        f"Signs of dehydration, grade {severity}: by the scale of mammals {share} of mass is missing water, "
        f"so mass and condition read low ({row.source})."
    )


def rest_flags(case: Case, evidence: Evidence) -> tuple[Flag, ...]:
    """Loss over the winter rest of a tortoise against the lines a month and in total."""
    if not covers(evidence, evidence.body_condition["hib_month"].taxon, case.animal.taxon):
        return ()
    return tuple(flag for rest in case.history.winter_rest for flag in _rest(rest, evidence))


def rest_loss_pct(rest: WinterRest) -> tuple[float, float | None] | None:
    """Loss in % in total and a month; None where a mass is missing or zero, a month None without weeks.

    >>> from baskwell.science.case.span import Span
    >>> rest = WinterRest(True, Span.exactly(6), None, None, Span.exactly(716), Span.exactly(699))
    >>> total, monthly = rest_loss_pct(rest)
    >>> round(total, 2), round(monthly, 3)
    (2.37, 1.715)
    """
    before, after = rest.mass_before_g, rest.mass_after_g
    if before is None or after is None or before.middle <= 0:
        return None
    total = 100 * (1 - after.middle / before.middle)
    weeks = rest.weeks.middle if rest.weeks else 0.0
    return total, total * WEEKS_PER_MONTH / weeks if weeks > 0 else None


def _rest(rest: WinterRest, evidence: Evidence) -> Iterator[Flag]:
    lost = rest_loss_pct(rest)
    if lost is None:
        return
    total, monthly = lost
    whole, month = evidence.body_condition["hib_total"], evidence.body_condition["hib_month"]
    if whole.low_limit is not None and total > whole.low_limit * ROUNDING:
        yield Flag(
            "vet now", whole.item_id, f"It lost {total:.1f} % over its rest: {whole.meaning}.", whole.source
        )
    elif month.high_limit is not None and monthly is not None and monthly > month.high_limit * ROUNDING:
        text = f"It lost {monthly:.1f} % a month over its rest: {month.meaning}."
        yield Flag("within days", month.item_id, text, month.source)
