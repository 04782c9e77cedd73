"""The decision rule as a whole: looks in order, decisions that stand, the leader, rounds still needed."""

from typing import NamedTuple

import numpy as np

from service.statistics.bell_reference import Store, bell_draws
from service.statistics.fewest_rounds import fewest_rounds
from service.statistics.known_noise import BELOW_ROUNDS
from service.statistics.leader import LeaderAnswer, leader_answer
from service.statistics.looks_taken import looks_taken
from service.statistics.pair_look import adjusted_p, reference_for
from service.statistics.pair_p_values import pair_p_values
from service.statistics.pair_statistics import pair_indices
from service.statistics.results import (
    NEEDS_MORE_RUNS,
    Criticals,
    Flags,
    Floats,
    Judgement,
    KnownNoise,
    Look,
    LookTaken,
    PairJudgement,
    Repeats,
    RoundsNeeded,
    Rule,
)
from service.statistics.rounds_needed import Noise, rounds_needed
from service.statistics.standing import StandingPairs, StandingTrial, standing_pairs, standing_trial
from service.statistics.trial_looks import TrialLooks
from service.statistics.trial_noise import trial_noise


class _Found(NamedTuple):
    """Everything found of one trial before it is put together."""

    looks: TrialLooks
    answer: LeaderAnswer
    taken: tuple[LookTaken, ...]
    pairs: StandingPairs
    trial: StandingTrial
    noise: Noise | None
    needed: RoundsNeeded


def judge(
    scores: Floats,
    rule: Rule,
    *,
    competing: Flags,
    store: Store,
    known: KnownNoise | None = None,
    repeats: Repeats | None = None,
) -> Judgement:
    """Reach the verdict of one trial.

    scores: (K, R), mean reading of each run, NaN where no run was made; K >= 1, R >= 1. competing: (K,),
    False for controls that are compared but cannot win. known: repeatability from elsewhere. repeats: scores
    of single mountings where a round holds several. Raises ValueError for arrays of other shapes.
    """
    if scores.ndim != 2 or competing.shape != scores.shape[:1] or not scores.size:
        raise ValueError(f"scores {scores.shape} and competing {competing.shape} must be (K, R) and (K,)")
    looks = TrialLooks(scores, rule, store=store, known=known, repeats=repeats, competing=competing)
    pairs, trial = standing_pairs(looks), standing_trial(looks, competing)
    answer = leader_answer(looks, looks.rounds, competing)
    noise = trial_noise(looks)
    needed = _needed(looks, noise, trial, pairs, competing=competing)
    return _put_together(_Found(looks, answer, looks_taken(looks, competing), pairs, trial, noise, needed))


def _needed(
    looks: TrialLooks, noise: Noise | None, trial: StandingTrial, pairs: StandingPairs, *, competing: Flags
) -> RoundsNeeded:
    first, second = pair_indices(len(looks.scores))
    settled = [0 if outcome != NEEDS_MORE_RUNS else None for outcome in pairs.outcome]
    trial_settled = 0 if trial.outcome != NEEDS_MORE_RUNS else None
    members = looks.joined(looks.rounds)
    if noise is None or (trial_settled == 0 and None not in settled):
        return RoundsNeeded(trial_settled, trial_settled, tuple(settled), too_fine=False)
    found = rounds_needed(
        looks.scores[members],
        noise,
        competing=competing[members],
        margin=looks.rule.margin,
        setting=looks.setting,
    )
    fresh = iter(found.pairs)
    inside = members[first] & members[second]
    by_pair = [next(fresh) if here else None for here in inside]
    together = tuple(old if old == 0 else new for old, new in zip(settled, by_pair, strict=True))
    if trial_settled == 0:
        return RoundsNeeded(0, 0, together, too_fine=False)
    alone = int((members & competing).sum()) < 2
    return RoundsNeeded(found.half, found.safe, together, too_fine=found.too_fine and not alone)


def _put_together(found: _Found) -> Judgement:
    looks, answer = found.looks, found.answer
    present = looks.shuffled_look(looks.rounds)
    table = looks.whole(looks.rounds)
    members = looks.members(looks.rounds)
    fitted_elements = int(members.sum())
    schedule = _schedule(looks, fitted_elements)
    known_looks = looks.known_looks()
    return Judgement(
        scores=table.scores,
        judged=members,
        leader=answer.leader,
        outcome=found.trial.outcome,
        winner=found.trial.winner,
        decided_at=found.trial.decided_at,
        present_outcome=answer.outcome if answer.is_look else NEEDS_MORE_RUNS,
        against=answer.against,
        leading=answer.leading,
        decided_among=found.trial.leading,
        pairs=_pairs(found),
        more_rounds=found.needed.half,
        more_rounds_safe=found.needed.safe,
        too_fine=found.needed.too_fine,
        fewest_rounds=known_looks[0].round
        if known_looks
        else fewest_rounds(len(looks.scores), looks.setting, longest=looks.rounds),
        schedule=(*known_looks, *schedule),
        taken=found.taken,
        this_look=next((look for look in (*known_looks, *schedule) if look.round == looks.rounds), None),
        critical=_criticals(looks),
        enumerated=bool(present and present.shuffled and present.shuffled.enumerated),
        permutations=present.shuffled.arrangements if present and present.shuffled else 0,
        bell_draws=bell_draws(fitted_elements, looks.rounds) if schedule else 0,
        residual_variance=found.noise.squares / found.noise.degrees_of_freedom if found.noise else None,
        residual_df=found.noise.degrees_of_freedom if found.noise else None,
        design=_design(looks),
    )


def _schedule(looks: TrialLooks, fitted: int) -> tuple[Look, ...]:
    if fitted < 2:
        return ()
    return reference_for(fitted, looks.rounds, looks.setting, longest=looks.rounds).looks


def _criticals(looks: TrialLooks) -> Criticals:
    known = looks.known_at(looks.rounds)
    if known is not None:
        return Criticals(None, None, known.leader_critical)
    look = looks.shuffled_look(looks.rounds)
    if look is None:
        return Criticals()
    most = int(look.fewer.argmax())
    shuffled = None if look.shuffled_critical is None else look.shuffled_critical[most]
    return Criticals(
        _finite(shuffled), _finite(look.bell_critical[most]), _finite(look.leader_critical[most])
    )


def _design(looks: TrialLooks) -> str:
    if looks.known_at(looks.rounds) is not None:
        return "one round, known noise"
    judged = looks.scores[looks.members(looks.rounds)]
    return "rounds" if np.isfinite(judged).all() else "incomplete rounds"


def _pairs(found: _Found) -> tuple[PairJudgement, ...]:
    looks = found.looks
    table = looks.whole(looks.rounds)
    alone = table.outcomes(margin=looks.rule.margin, tol=looks.setting.tol)
    p_values = pair_p_values(looks.scores, seed=looks.rule.seed)
    adjusted = _adjusted(looks, p_values)
    first, second = pair_indices(len(looks.scores))
    return tuple(
        PairJudgement(
            first=int(first[place]),
            second=int(second[place]),
            difference=_finite(table.difference[place]),
            standard_error=_finite(table.error[place]),
            statistic=_finite(table.statistic[place]),
            **_ends(table.low[place], table.high[place]),
            p_value=_finite(p_values[place]),
            adjusted_p=_finite(adjusted[place]),
            present_outcome=str(alone[place]),
            outcome=str(found.pairs.outcome[place]),
            winner=None if found.pairs.winner[place] < 0 else int(found.pairs.winner[place]),
            decided_at=int(found.pairs.decided_at[place]) or None,
            more_rounds=found.needed.pairs[place],
        )
        for place in range(len(first))
    )


def _adjusted(looks: TrialLooks, p_values: Floats) -> Floats:
    known = looks.known_at(looks.rounds)
    if known is not None:
        return known.adjusted_p
    members = looks.members(looks.rounds)
    first, second = pair_indices(len(members))
    here = members[first] & members[second]
    look = looks.shuffled_look(looks.rounds)
    two = len(members) == 2 or (here & (members.sum() == 2) & (looks.rounds >= BELOW_ROUNDS))
    adjusted = np.where(two, p_values, np.nan)
    if look is not None:
        adjusted[here] = adjusted_p(look, looks.setting)
    return adjusted


def _ends(low: float, high: float) -> dict[str, float | None]:
    both = bool(np.isfinite(low) and np.isfinite(high))
    return {"low": float(low) if both else None, "high": float(high) if both else None}


def _finite(value: float | None) -> float | None:
    return None if value is None or not np.isfinite(value) else float(value)
