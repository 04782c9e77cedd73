"""What stands for a judgement in an invented document: plain t intervals and the outcomes they give."""

from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import studentized_range, t

from tests.reports.sample_parts import beside_pair

Document = dict[str, Any]
Readings = NDArray[np.float64]  # (element, round)
CLEAR, WITHIN, MORE = "clear winner", "within noise", "needs more runs"
MANY = 8


def reason(code: str, **evidence: Any) -> Document:
    return {"code": code, "evidence": evidence, "message": None}


def pair_of(trial: Document, scores: Readings, i: int, j: int) -> Document:
    ids = [entry["id"] for entry in trial["elements"]]
    rounds, count = scores.shape[1], len(scores)
    gap = scores[i] - scores[j]
    known = rounds >= 3
    error = float(np.sqrt(max(gap.var(ddof=1), 1e-6) / rounds)) if known else None
    reach = _critical(trial["confidence"], count, rounds) * error if error is not None else None
    low, high = (None, None) if reach is None else (float(gap.mean() - reach), float(gap.mean() + reach))
    outcome = _outcome(low, high, trial["margin"])
    interval = known and {
        "low": low,
        "high": high,
        "level": trial["confidence"],
        "method": "shuffled maximum",
    }
    return {
        "first": ids[i],
        "second": ids[j],
        "difference": float(gap.mean()),
        "interval": interval or None,
        "standard_error": error,
        "p_value": 0.03125 if rounds > 1 else None,
        "adjusted_p_value": 0.0041 if known else None,
        "outcome": outcome,
        "winner": (ids[i] if gap.mean() > 0 else ids[j]) if outcome == CLEAR else None,
        "decided_at_round": rounds if outcome != MORE else None,
        "present_outcome": outcome,
        "more_rounds": 0 if outcome != MORE else (3 if known else None),
        **beside_pair(gap, known=known),
    }


@cache
def _critical(confidence: float, count: int, rounds: int) -> float:
    """Of many elements Bonferroni's: the quantile of the range takes a second for each number of rounds."""
    df = max(1, (count - 1) * (rounds - 1))
    if 2 < count <= MANY:
        return float(studentized_range.ppf(confidence, count, df) / np.sqrt(2))
    pairs = count * (count - 1) / 2
    return float(t.isf((1 - confidence) / 2 / max(pairs, 1), df))


def _outcome(low: float | None, high: float | None, margin: float) -> str:
    if low is None or high is None:
        return MORE
    if -margin <= low and high <= margin:
        return WITHIN
    return CLEAR if low > 0 or high < 0 else MORE


def elements_of(trial: Document, values: Readings, scores: Readings) -> list[Document]:
    means, totals = scores.mean(axis=1), values.mean(axis=1).sum(axis=1)
    competing = [
        k for k, entry in enumerate(trial["elements"]) if "twin_of" not in entry and "pad_of" not in entry
    ]
    order = sorted(competing, key=lambda k: -means[k])
    return [_element(trial, scores, k, order=order, totals=totals) for k in range(len(scores))]


def _element(
    trial: Document, scores: Readings, k: int, *, order: list[int], totals: NDArray[np.float64]
) -> Document:
    leader = order[0]
    given, competes = trial["elements"][k], k in order
    role = "competes" if competes else "twin" if "twin_of" in given else "pad"
    pair = None if k == leader or not competes else pair_of(trial, scores, min(k, leader), max(k, leader))
    standing = {
        None: "leads",
        CLEAR: "behind the leader",
        WITHIN: "shares the lead",
        MORE: "not told apart yet",
    }
    interval = pair and pair["interval"]
    sign = -1 if k > leader else 1
    ends = interval and sorted(sign * interval[side] for side in ("low", "high"))
    top = float(scores[leader].mean())
    return {
        "id": given["id"],
        "label": given["label"],
        "role": role,
        "place": None if not competes else (2 if pair and pair["outcome"] == CLEAR else 1),
        "rank": order.index(k) + 1 if competes else None,
        "score": float(scores[k].mean()),
        "score_interval": {"low": top + ends[0], "high": top + ends[1]} if ends else None,
        "total": float(totals[k]),
        "total_possible": 10.0 * len(trial["channels"]),
        "percent_of_best": float(totals[k] / totals[order].max() * 100),
        "channels_received": len(trial["channels"]),
        "rf_channels_received": len({entry["rf_channel"] for entry in trial["channels"]}),
        "rounds": scores.shape[1],
        "round_scores": [{"round": r + 1, "score": float(score)} for r, score in enumerate(scores[k])],
        "cost": given.get("cost"),
        "standing": None if not competes else standing[pair and pair["outcome"]],
    }


def verdict_of(trial: Document, elements: list[Document], pairs: list[Document], rounds: int) -> Document:
    competing = sorted((e for e in elements if e["role"] == "competes"), key=lambda e: e["rank"])
    best = competing[0]["id"]
    against = [_against(pairs, best, entry["id"]) for entry in competing[1:]]
    outcomes = {rival["outcome"] for rival in against}
    outcome = MORE if not outcomes or MORE in outcomes else WITHIN if WITHIN in outcomes else CLEAR
    open_ = [rival["element"] for rival in against if rival["outcome"] == MORE]
    fewest = 6 if len(elements) == 2 else 3 if len(elements) > 2 else None
    if not against:
        reasons = [reason("nothing-to-compare")]
    elif rounds < 3:
        reasons = [reason("too-few-rounds", fewest_rounds=fewest, rounds_done=rounds)]
    else:
        reasons = [reason("not-told-apart", elements=open_) if open_ else reason("settled")]
    more = None if rounds < 3 or not against else 3 if open_ else 0
    per_round = len(elements) * (trial["minutes_per_run"] or 0) / 60
    return {
        "outcome": outcome,
        "winner": best if outcome == CLEAR else None,
        "leading": [best, *(rival["element"] for rival in against if rival["outcome"] != CLEAR)],
        "decided_at_round": rounds if outcome != MORE else None,
        "against": against,
        "statement": None,
        "reception_statement": None,
        "reasons": reasons,
        "rounds_done": rounds,
        "more_rounds": more,
        "more_rounds_safe": more and more + 3,
        "fewest_rounds": fewest,
        "hours": {
            "per_round": per_round,
            "more_rounds": more and more * per_round,
            "more_rounds_safe": more and (more + 3) * per_round,
            "fewest_rounds": fewest and fewest * per_round,
        }
        if trial["minutes_per_run"]
        else None,
    }


def looks_taken(trial: Document, values: Readings) -> list[Document]:
    """The looks from the third round on: the leader of each against the rival that came nearest."""
    return (
        [_look(trial, values[:, :rounds]) for rounds in range(3, values.shape[1] + 1)]
        if len(values) > 1
        else []
    )


def _look(trial: Document, values: Readings) -> Document:
    scores, rounds = values.mean(axis=2), values.shape[1]
    elements = elements_of(trial, values, scores)
    leader = next(k for k, entry in enumerate(elements) if entry["rank"] == 1)
    others = [k for k in range(len(scores)) if k != leader]
    pairs = [pair_of(trial, scores, min(k, leader), max(k, leader)) for k in others]
    verdict = verdict_of(trial, elements, pairs, rounds)
    nearest = min(verdict["against"], key=lambda rival: rival["low"])
    ends = {name: nearest[name] for name in ("difference", "low", "high")}
    names = {"first": verdict["leading"][0], "second": nearest["element"]}
    return {"round": rounds, "rounds": rounds, **names, **ends, "outcome": verdict["outcome"]}


def _against(pairs: list[Document], best: str, other: str) -> Document:
    pair = next(p for p in pairs if {p["first"], p["second"]} == {best, other})
    sign = 1 if pair["first"] == best else -1
    ends = pair["interval"] and sorted(sign * pair["interval"][side] for side in ("low", "high"))
    return {
        "element": other,
        "difference": sign * pair["difference"],
        "low": ends[0] if ends else None,
        "high": ends[1] if ends else None,
        "outcome": pair["outcome"],
    }


def one_scan(trial: Document, elements: list[Document]) -> Document:
    totals = [{"element": e["id"], "value": e["total"]} for e in elements if e["role"] == "competes"]
    values = [entry["value"] for entry in totals]
    span, minutes = max(values) - min(values), trial["minutes_per_run"]
    expected, chance = {2: (1.128, 2.772), 3: (1.693, 3.314), 4: (2.059, 3.633)}[len(values)]
    return {
        "of": "total",
        "unit": trial["meter"]["unit"],
        "totals": totals,
        "span": span,
        "break_even_sd": span / expected,
        "span_expected_per_sd": expected,
        "span_by_chance_95": chance,
        "known_sd": None,
        "remount_test": {
            "element": trial["reference"] or totals[0]["element"],
            "remounts": 10,
            "minutes": minutes and 10 * minutes,
            "sd_below": span / chance,
        },
        "fewest_rounds": 3,
        "hours": minutes and {"remount_test": minutes / 6, "fewest_rounds": 3 * minutes * len(elements) / 60},
        "statement": None,
    }


def repeatability(scores: Readings) -> Document | None:
    if scores.shape[1] < 2:
        return None
    inside = scores - scores.mean(axis=0) - scores.mean(axis=1)[:, None] + scores.mean()
    df = max(1, (scores.shape[0] - 1) * (scores.shape[1] - 1))
    sd = float(np.sqrt((inside**2).sum() / df))
    return {"sd": sd, "limit": 2.8 * sd, "degrees_of_freedom": df, "icc": 0.81, "from": "this trial"}


def value_pick(elements: list[Document], pairs: list[Document]) -> Document:
    leader = next(entry["id"] for entry in elements if entry["rank"] == 1)
    mine = [pair for pair in pairs if leader in (pair["first"], pair["second"])]
    names = {entry["id"]: entry for entry in elements if entry["role"] == "competes"}
    as_good = [n for p in mine if p["outcome"] == WITHIN for n in (p["first"], p["second"]) if n in names]
    open_ = [
        n
        for p in mine
        if p["outcome"] == MORE
        for n in (p["first"], p["second"])
        if n in names and n != leader
    ]
    priced = [name for name in as_good if names[name]["cost"]]
    if priced:
        pick = min(priced, key=lambda name: names[name]["cost"]["amount"])
        price = names[pick]["cost"] | {"from": "cost"}
        return pick_entry(pick, "cheapest", open_, basis="cost", price=price)
    reason = "not settled" if open_ else "no costs" if as_good else "only the leader"
    basis = None if reason == "only the leader" else "cost"
    return pick_entry(leader if reason == "only the leader" else None, reason, open_, basis=basis)


def pick_entry(element: str | None, reason: str, undecided: list[str], **told: Any) -> Document:
    """A value pick, with what is told of it beside the element, the reason and what is open."""
    told = {"basis": None, "price": None, "minutes": None, "quickest": None} | told
    return {"element": element, "reason": reason, "undecided": undecided, **told}
