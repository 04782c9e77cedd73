"""A trial judged look by look: pairs, the leader's question, decisions that stand."""

from types import SimpleNamespace

import numpy as np

from .plain_fit import all_pairs
from .plain_known_noise import halves_alpha
from .plain_look import look_at, paired_differences, tolerance
from .plain_looks import Plan, bell_critical, paired_order
from .plain_outcome import CLEAR, MORE, outcome_of, outcome_of_trial, sign_of
from .plain_sign_flip import sign_flip_p


def judge(
    scores,
    *,
    planned,
    alpha,
    every_round,
    margin,
    floor,
    seed,
    competing=None,
    known=None,
    repeats=None,
):
    """The judgement of scores (K, R), NaN where an element has no run in a round, as a plain dict.

    `competing` marks the elements that may lead (all, if None); `known` is (sd, degrees of freedom) of a
    single mounting; `repeats` is (mountings (K, R), sums of squares within the mountings of a run (K, R)).
    Rounds are numbered from 1, elements from 0; what cannot be computed is None.
    """
    scores = np.asarray(scores, dtype=float)
    rule = SimpleNamespace(
        plan=Plan(planned, alpha / 2.0 if halves_alpha(known, repeats) else alpha, every_round),
        margin=margin,
        floor=floor,
        seed=seed,
        competing=[True] * len(scores) if competing is None else [bool(c) for c in competing],
        known=known,
        repeats=repeats,
    )
    memory = SimpleNamespace(seed=seed, pairs={}, decisions=[], leader_question={}, known_looks=[])
    for r in range(1, scores.shape[1] + 1):
        look = look_at(scores[:, :r], rule)
        against = _take_look(look, scores[:, :r], rule, memory)
    outcome, winner, decided_at = _standing(memory.decisions, look, rule)
    return {
        "pairs": [_pair_entry(scores, pair, look, memory) for pair in all_pairs(range(len(scores)))],
        "outcome": outcome,
        "winner": winner,
        "decided_at": decided_at,
        "leader": look.leader,
        "against": [_against_entry(entry, look) for entry in against],
        "schedule": [*memory.known_looks, *_schedule(len(look.fit), scores.shape[1], rule.plan)],
    }


def _take_look(look, table, rule, memory):
    """Remember what this look decides; returns the leader against each other, [(element, pair, outcome)]."""
    tol, r = tolerance(table), table.shape[1]
    memory.known_looks += [] if look.known is None else [_known_look(look.known, r, rule.plan.alpha)]
    grown = {pair for pair, found in look.pairs.items() if _has_grown(found, table, pair)}
    for i, j in grown:
        found = look.pairs[i, j]
        outcome = outcome_of(found.low, found.high, rule.margin, tol)
        if outcome != MORE:
            side = sign_of(found.low, found.high, tol) if outcome == CLEAR else 0
            memory.pairs[i, j] = (outcome, {1: i, -1: j, 0: None}[side], r)
        ends = found.leader_low, found.leader_high
        memory.leader_question[i, j] = outcome_of(*ends, rule.margin, tol), sign_of(*ends, tol)
    against = _leader_against(look, rule, memory)
    outcome = outcome_of_trial([entry[2] for entry in against])
    if outcome != MORE and any(entry[1] in grown for entry in against):
        winner = look.leader if outcome == CLEAR else None
        memory.decisions.append((set(look.fit), (outcome, winner, r)))
    return against


def _standing(decisions, look, rule):
    """The latest decision; one that was taken without an element that is judged now says nothing of it."""
    now = {k for k in look.fit if rule.competing[k]}
    standing = [decision for judged, decision in decisions if now <= judged]
    return standing[-1] if standing else (MORE, None, None)


def _has_grown(found, table, pair):
    """A look is one at which the rounds that count for the pair have become more."""
    return found.held(table, *pair) > found.held(table[:, :-1], *pair)


def _leader_against(look, rule, memory):
    """Each pair of the leader as its own latest look left it."""
    against = []
    for other in look.fit if len(look.fit) >= 2 else look.effects:
        if look.leader is None or other == look.leader or not rule.competing[other]:
            continue
        pair = min(look.leader, other), max(look.leader, other)
        outcome, side = memory.leader_question.get(pair, (MORE, 0))
        ahead = side if pair[0] == look.leader else -side
        against.append((other, pair, MORE if outcome == CLEAR and ahead < 0 else outcome))
    return against


def _pair_entry(scores, pair, look, memory):
    differences, rounds = paired_differences(scores, *pair, tolerance(scores))
    found = look.pairs.get(pair)
    outcome, winner, decided_at = memory.pairs.get(pair, (MORE, None, None))
    return {
        "first": pair[0],
        "second": pair[1],
        "difference": found.difference if found else _plain_difference(look, pair, differences),
        "se": found.se if found else None,
        "low": found.low if found else None,
        "high": found.high if found else None,
        "p_value": sign_flip_p(differences, memory.seed, rounds) if len(rounds) >= 2 else None,
        "adjusted_p": found.adjusted_p if found else None,
        "outcome": outcome,
        "winner": winner,
        "decided_at": decided_at,
    }


def _plain_difference(look, pair, differences):
    """For a pair that is not judged: from the fit of all, else the mean over shared rounds, else None."""
    if pair[0] in look.effects and pair[1] in look.effects:
        return look.effects[pair[0]] - look.effects[pair[1]]
    return float(differences.mean()) if len(differences) else None


def _against_entry(entry, look):
    other, pair, outcome = entry
    found = look.pairs.get(pair)
    sign = 1.0 if pair[0] == look.leader else -1.0
    ends = (found.leader_low, found.leader_high) if found else (None, None)
    if ends[0] is not None and sign < 0:
        ends = (-ends[1], -ends[0])
    difference = found.difference if found else look.effects[pair[0]] - look.effects[pair[1]]
    return {
        "element": other,
        "difference": sign * difference,
        "low": ends[0],
        "high": ends[1],
        "outcome": outcome,
    }


def _known_look(pairs, r, half):
    """A look by a known noise, which has the half of the error that the others leave."""
    pair = next(iter(pairs.values()))
    leader, critical = pair.leader_critical, pair.critical
    return {"round": r, "spent": half, "level": half, "critical": critical, "leader": leader, "order": None}


def _schedule(elements, rounds, plan):
    """Every look so far that takes the noise from the rounds."""
    looks = []
    for r in range(1, rounds + 1):
        if elements == 2:
            found = paired_order(r, plan)
        else:
            found = bell_critical(elements, r, plan) if elements else None
        if found:
            looks.append(
                {
                    "round": r,
                    "spent": found["spent"],
                    "level": found["level"],
                    "critical": found.get("critical"),
                    "leader": found.get("leader"),
                    "order": found.get("order"),
                }
            )
    return looks
