"""The next best question: which answer would change the ranking the most for what it costs."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from baskwell.evidence import Evidence
from baskwell.science.case.model import Case, SignSeen, TestResult
from baskwell.science.causes.factors import effects_on
from baskwell.science.causes.network import REMAINDER
from baskwell.science.causes.problem import Array
from baskwell.science.causes.rank import Setting
from baskwell.science.causes.ranking import Question, QuestionKind
from baskwell.science.causes.sweep import LARGEST_EXACT, exact_marginals

Single = NDArray[np.float32]
NOT_KNOWN = "not known"
SEVERITY_ANSWERS = ("no", "mild", "moderate", "severe")
RELEVANT = 0.004
LEAST_WEIGHT = 0.05
LEAST_BITS = 0.001
SETTLED_CHANCE = 0.03
SETTLED_BITS = 0.01
STATED = 0.8
DENIED = 0.2


@dataclass(frozen=True)
class _Candidate:
    """A question with two outcomes: their chances and the posterior after each, (n_conditions,)."""

    kind: QuestionKind
    key: str
    chance_yes: float
    after_yes: Array
    after_no: Array


def next_questions(setting: Setting) -> tuple[Question, ...]:
    """Every open question worth asking, the best first.

    Candidates are unknown exposures, signs nobody looked for, and tests. Worth is the expected drop of
    entropy (in bits, each condition weighted by how much of what is seen it explains), divided by the cost
    in minutes. Each outcome is solved exactly. Empty where more signs are present than the sweep holds.
    """
    if not 0 < len(setting.problem.present) < LARGEST_EXACT:
        return ()
    found = [*_exposure_candidates(setting), *_sign_candidates(setting), *_test_candidates(setting)]
    telling = [one for one in _weigh(setting, found) if one.bits >= LEAST_BITS]
    questions = [_question(setting, group) for group in _by_question(telling)]
    return tuple(sorted(questions, key=lambda q: -q.worth))


def would_change_nothing(questions: Sequence[Question]) -> bool:
    """Whether no open question is likely to move the first cause or tell much."""
    return all(q.chance_top_changes < SETTLED_CHANCE and q.information_bits < SETTLED_BITS for q in questions)


def _relevant(setting: Setting) -> NDArray[np.bool_]:
    """Conditions that the question should bear on: probable, or explaining something."""
    keep: NDArray[np.bool_] = np.asarray((setting.posterior > RELEVANT) & (setting.problem.prior[:, 0] > 0))
    return keep


def _multiplied(setting: Setting, multipliers: Array) -> tuple[Array, Array]:
    """Posterior (n_conditions, n_lanes) and evidence where prior odds are multiplied lane by lane."""
    lanes = multipliers.shape[1]
    prior = setting.problem.folded
    prior = prior * multipliers / (prior * multipliers + 1.0 - prior)
    links = np.broadcast_to(setting.problem.links, (*setting.problem.links.shape[:2], lanes))
    leak = np.broadcast_to(setting.problem.leak, (setting.problem.leak.shape[0], lanes))
    found = exact_marginals(*_single(prior, links, leak))
    return found.posterior, found.evidence


def _single(prior: Array, links: Array, leak: Array) -> tuple[Single, Single, Single]:
    return prior.astype(np.float32), links.astype(np.float32), leak.astype(np.float32)


def _exposure_candidates(setting: Setting) -> Iterator[_Candidate]:
    relevant = _relevant(setting)
    rows = {c: k for k, c in enumerate(setting.problem.condition_ids)}
    effects = effects_on(setting.evidence, setting.case.animal.taxon)
    asked: list[tuple[str, float, Array, Array]] = []
    for exposure in setting.exposures:
        ask = setting.evidence.exposure_priors[exposure.exposure_id]
        if exposure.state == "known" or not (ask.ask_owner or ask.look):
            continue
        yes, no = np.ones(relevant.size), np.ones(relevant.size)
        for effect in effects.get(exposure.exposure_id, ()):
            if effect.target_id in rows and relevant[rows[effect.target_id]]:
                average = ask.mode * effect.mode + 1.0 - ask.mode
                yes[rows[effect.target_id]], no[rows[effect.target_id]] = effect.mode / average, 1.0 / average
        if (yes != 1.0).any():
            asked.append((exposure.exposure_id, ask.mode, yes, no))
    yield from _two_outcomes(setting, "exposure", asked)


def _two_outcomes(
    setting: Setting, kind: QuestionKind, asked: Sequence[tuple[str, float, Array, Array]]
) -> Iterator[_Candidate]:
    """Solve both outcomes of each question in one pass; signs already seen update the chance of a yes."""
    if not asked:
        return
    multipliers = np.stack([m for _, _, yes, no in asked for m in (yes, no)], axis=1)
    posterior, evidence = _multiplied(setting, multipliers)
    for k, (key, prior, _, _) in enumerate(asked):
        weight_yes, weight_no = prior * evidence[2 * k], (1.0 - prior) * evidence[2 * k + 1]
        chance = float(weight_yes / (weight_yes + weight_no))
        yield _Candidate(kind, key, chance, posterior[:, 2 * k], posterior[:, 2 * k + 1])


def _sign_candidates(setting: Setting) -> Iterator[_Candidate]:
    """A sign found: one more present sign. Not found: what is left by the law of total probability."""
    network, problem = setting.network, setting.problem
    told = network.link_mean * _relevant(setting)[:, None]
    whole_only = {m.sign_id for m in setting.evidence.causes.sign_sets if m.composite and m.exactness == 4}
    signs = [
        s
        for s in setting.seen.not_examined
        if s not in whole_only and told[:, network.sign_index([s])[0]].max() >= 0.05
    ]
    if not signs:
        return
    columns = network.sign_index(signs)
    links = np.repeat(problem.links, len(signs), axis=2)
    links = np.concatenate([links, network.link_mean[:, None, columns]], axis=1)
    leak = np.concatenate([np.repeat(problem.leak, len(signs), axis=1), _mean_leak(setting, columns)[None]])
    prior = np.repeat(problem.folded, len(signs), axis=1)
    found = exact_marginals(*_single(prior, links, leak))
    whole = float(setting.solution.marginals.evidence[0])
    for k, sign in enumerate(signs):
        chance = min(float(found.evidence[k]) / whole, 0.999)
        after = found.posterior[:, k]
        rest = np.clip((setting.posterior - chance * after) / (1.0 - chance), 0.0, 1.0)
        yield _Candidate("sign", sign, chance, after, rest)


def _mean_leak(setting: Setting, columns: Sequence[int]) -> Array:
    leak = setting.network.leak[list(columns)]
    mean: Array = (leak[:, 0] + 4.0 * leak[:, 1] + leak[:, 2]) / 6.0
    return mean


def _test_candidates(setting: Setting) -> Iterator[_Candidate]:
    """A test told positive or negative for one condition: its likelihood ratio on that condition's odds."""
    rows = {c: k for k, c in enumerate(setting.problem.condition_ids)}
    relevant = _relevant(setting)
    done = {t.test for t in setting.case.exam.tests}
    asked = []
    for test in setting.evidence.causes.test_performance:
        row = rows.get(test.condition_id)
        if row is None or not relevant[row] or test.test_kind in done:
            continue
        se, sp = test.sensitivity_mode, test.specificity_mode
        yes, no = np.ones(relevant.size), np.ones(relevant.size)
        yes[row], no[row] = se / (1.0 - sp), (1.0 - se) / sp
        p = float(setting.posterior[row])
        asked.append((f"{test.test_kind}:{test.condition_id}", se * p + (1.0 - sp) * (1.0 - p), yes, no))
    for candidate, (_, chance, _, _) in zip(_two_outcomes(setting, "test", asked), asked, strict=True):
        yield replace(candidate, chance_yes=chance)


@dataclass(frozen=True)
class _Weighed:
    """A candidate with its expected information in bits and the chance that it changes the first cause."""

    candidate: _Candidate
    bits: float
    change: float


def _weigh(setting: Setting, found: Sequence[_Candidate]) -> list[_Weighed]:
    """Information and chance of change of all candidates in one pass."""
    if not found:
        return []
    chance = np.array([c.chance_yes for c in found])
    yes, no = (np.stack(p, axis=1) for p in zip(*((c.after_yes, c.after_no) for c in found), strict=True))
    before = _entropy(chance * yes + (1.0 - chance) * no)
    drop = before - chance * _entropy(yes) - (1.0 - chance) * _entropy(no)
    bits = np.maximum(0.0, _share(setting) @ drop)
    scale = (setting.explains / np.maximum(setting.posterior, 1e-12))[:, None]
    top = int(setting.explains.argmax())
    change = chance * ((scale * yes).argmax(axis=0) != top) + (1.0 - chance) * (
        (scale * no).argmax(axis=0) != top
    )
    return [_Weighed(c, float(b), float(x)) for c, b, x in zip(found, bits, change, strict=True)]


def _by_question(weighed: Sequence[_Weighed]) -> Iterator[list[_Weighed]]:
    """One entry a question; the conditions that one kind of test can settle come together."""
    groups: dict[str, list[_Weighed]] = {}
    for one in weighed:
        key = one.candidate.key
        name = key.split(":")[0] if one.candidate.kind == "test" else key
        groups.setdefault(f"{one.candidate.kind}/{name}", []).append(one)
    yield from groups.values()


def _question(setting: Setting, group: Sequence[_Weighed]) -> Question:
    best = max(group, key=lambda one: one.bits)
    bits = sum(one.bits for one in group)
    text, cost, answers = _wording(setting, [one.candidate for one in group], best.candidate)
    return Question(
        key=best.candidate.key.split(":")[0],
        kind=best.candidate.kind,
        text=text,
        why=_why(setting, best.candidate),
        information_bits=bits,
        chance_top_changes=max(one.change for one in group),
        cost=cost,
        worth=bits / cost,
        answers=answers,
    )


def _share(setting: Setting) -> Array:
    """How much a condition matters: what it explains against the leader, never nothing."""
    most = max(float(setting.explains.max()), 1e-9)
    share: Array = np.clip(setting.explains / most, LEAST_WEIGHT, 1.0)
    return share


def _entropy(p: Array) -> Array:
    q = np.clip(p, 1e-12, 1.0 - 1e-12)
    bits: Array = -(q * np.log2(q) + (1.0 - q) * np.log2(1.0 - q))
    return bits


def _after(setting: Setting, posterior: Array) -> Array:
    """How much each condition would explain: what it explains now, scaled by its posterior."""
    scaled: Array = setting.explains * posterior / np.maximum(setting.posterior, 1e-12)
    return scaled


def _why(setting: Setting, candidate: _Candidate) -> str:
    row = _most_moved(setting, candidate)
    name = _name(setting, row)
    high, low = candidate.after_yes[row], candidate.after_no[row]
    return f"It would move '{name}' to about {_twenty(high)} or {_twenty(low)} in 20."


def _most_moved(setting: Setting, candidate: _Candidate) -> int:
    spread = _share(setting) * np.abs(candidate.after_yes - candidate.after_no)
    spread[setting.problem.condition_ids.index(REMAINDER)] = 0.0
    return int(spread.argmax())


def _name(setting: Setting, row: int) -> str:
    return setting.evidence.conditions[setting.problem.condition_ids[row]].name


def _twenty(probability: float) -> str:
    return f"{20.0 * probability:.0f}" if probability >= 0.025 else "less than 1"


def _effect(setting: Setting, candidate: _Candidate, posterior: Array) -> str:
    """What an answer would do, in a short sentence."""
    row = _most_moved(setting, candidate)
    top = int(_after(setting, posterior).argmax())
    if top != int(setting.explains.argmax()):
        return f"'{_name(setting, top)}' would come first"
    return f"'{_name(setting, row)}' about {_twenty(float(posterior[row]))} in 20"


def _told(mean: str, yes: str, no: str) -> str:
    """What an answer that stands for a probability of exposure would do ("?" stands for nothing)."""
    if mean == "?":
        return "nothing changes"
    return yes if float(mean) >= STATED else no if float(mean) <= DENIED else "between the two"


Answers = tuple[tuple[str, str], ...]


def _wording(setting: Setting, group: Sequence[_Candidate], best: _Candidate) -> tuple[str, float, Answers]:
    """Text, cost and answers of a question."""
    yes, no = _effect(setting, best, best.after_yes), _effect(setting, best, best.after_no)
    if best.kind == "exposure":
        ask = setting.evidence.exposure_priors[best.key]
        told = {mean: _told(mean, yes, no) for mean in ask.answer_means}
        pairs = zip(ask.answers, ask.answer_means, strict=True)
        answers = tuple((text, told[mean]) for text, mean in pairs)
        return ask.question, max(1.0, ask.minutes), answers
    if best.kind == "sign":
        sign = setting.evidence.signs[best.key]
        cost = next(
            r.minutes for r in setting.evidence.causes.exam_costs if r.body_system == sign.body_system
        )
        found = tuple((word, yes) for word in SEVERITY_ANSWERS[1:])
        return (
            f"Look for: {sign.lay_name} ({sign.name}).",
            cost,
            (("no", no), *found, (NOT_KNOWN, "nothing changes")),
        )
    kind = next(r for r in setting.evidence.causes.test_kinds if r.test_kind == best.key.split(":")[0])
    names = ", ".join(setting.evidence.conditions[c.key.split(":")[1]].name for c in group[:4])
    who = "by the veterinarian" if kind.done_by == "vet" else "by the keeper"
    answers = (("positive", yes), ("negative", no), (NOT_KNOWN, "nothing changes"))
    return f"{kind.name}, {who}: bears on {names}.", kind.cost_minutes, answers


def apply_answer(case: Case, question: Question, answer: str, evidence: Evidence) -> Case:
    """The case with an answer written in; an answer that tells nothing leaves it as it was.

    Raises ValueError for an answer that is not one of the question's.
    """
    allowed = [text for text, _ in question.answers]
    if answer not in allowed:
        raise ValueError(
            f"'{answer}' is not an answer to '{question.text}': choose one of {', '.join(allowed)}."
        )
    if question.kind == "exposure":
        return _tell_exposure(case, question.key, answer, evidence)
    if answer == NOT_KNOWN:
        return case
    if question.kind == "sign":
        return _tell_sign(case, question.key, answer)
    result = TestResult(test=question.key, result=answer)
    return replace(case, exam=replace(case.exam, tests=(*case.exam.tests, result)))


def _tell_exposure(case: Case, exposure_id: str, answer: str, evidence: Evidence) -> Case:
    ask = evidence.exposure_priors[exposure_id]
    mean = dict(zip(ask.answers, ask.answer_means, strict=True))[answer]
    history = case.history
    if mean != "?" and float(mean) >= STATED:
        history = replace(history, stated_exposures=(*history.stated_exposures, exposure_id))
    elif mean != "?" and float(mean) <= DENIED:
        history = replace(history, denied_exposures=(*history.denied_exposures, exposure_id))
    return replace(case, history=history)


def _tell_sign(case: Case, sign: str, answer: str) -> Case:
    if answer == "no":
        return replace(case, exam=replace(case.exam, absent=(*case.exam.absent, sign)))
    seen = SignSeen(sign, severity=SEVERITY_ANSWERS.index(answer))
    return replace(case, exam=replace(case.exam, signs=(*case.exam.signs, seen)))
