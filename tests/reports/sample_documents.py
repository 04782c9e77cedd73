"""Complete analysis documents for the report tests: invented readings, figures of the right kind.

The fields are those of every analysis document. The intervals are plain t intervals, not the service's own
method: a report only prints what it is given, so its tests need documents that hang together, not judgements.
"""

import hashlib
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import studentized_range, t

from tests.reports.sample_parts import (
    beside_pair,
    caution,
    channel_entries,
    method,
    read_as,
    reception,
    schedule,
    trial_document,
)

Document = dict[str, Any]
Readings = NDArray[np.float64]  # (element, round, channel)
CLEAR, WITHIN, MORE = "clear winner", "within noise", "needs more runs"


def readings(effects: list[float], *, rounds: int, channels: int, sd: float = 0.3, seed: int = 7) -> Readings:
    """Invented readings of a ten-bar meter."""
    draw = np.random.default_rng(seed)
    base = draw.uniform(2.0, 7.5, channels)
    level = base + np.array(effects)[:, None, None] + draw.normal(0, sd, (len(effects), rounds, 1))
    return np.clip(np.round(level + draw.normal(0, 0.7, (len(effects), rounds, channels))), 0, 10)


def document(trial: Document, values: Readings, *, cautions: tuple[Document, ...] = ()) -> Document:
    """An analysis document of complete rounds."""
    scores = values.mean(axis=2)
    pairs = [_pair(trial, scores, i, j) for i in range(len(scores)) for j in range(i + 1, len(scores))]
    elements = _elements(trial, values, scores)
    sha = hashlib.sha256(values.tobytes()).hexdigest()
    rounds = scores.shape[1]
    return {
        "format": "analysis/1",
        "trial": trial,
        "read_as": read_as(trial, values),
        "provenance": {
            "report_id": f"AA-{sha[:4]}-{sha[4:8]}-{sha[8:12]}".upper(),
            "readings_sha256": sha,
            "first_at": "2026-05-12T09:10:00Z",
            "last_at": "2026-05-13T16:40:00Z",
            "runs": {"planned": len(scores) * trial["planned_rounds"], "done": scores.size, "left_out": 0},
        },
        "verdict": _verdict(trial, elements, pairs, rounds),
        "elements": elements,
        "pairs": pairs,
        "all_equal": {
            "name": "friedman",
            "statistic": 14.2,
            "p_value": 0.0123,
            "method": "19999 draws",
            "kendall_w": 0.47,
        },
        "one_scan": _one_scan(trial, elements) if rounds == 1 else None,
        "repeatability": _repeatability(scores),
        "drift": None,
        "reception": reception(trial, values),
        "bands": None,
        "channels": channel_entries(trial, values),
        "value_pick": _value_pick(elements, pairs),
        "struck": {"runs": list(trial["struck"]), "without_strikes": None},
        "looks": schedule(trial, rounds),
        "cautions": [*cautions, caution("safety", "note")],
        "method": method(trial, len(scores), rounds),
    }


def two_elements(*, effects: tuple[float, float] = (1.2, 0.0), rounds: int = 6, **fields: Any) -> Document:
    """Two rods; the first one is better unless told otherwise."""
    trial = trial_document(elements=["brass-3", "bronze-13"], channels=12, **fields)
    return document(trial, readings(list(effects), rounds=rounds, channels=12))


def six_elements(
    *,
    effects: tuple[float, ...] = (0.9, 0.3, 0.2, -0.4),
    rounds: int = 6,
    cautions: tuple[Document, ...] = (),
    **fields: Any,
) -> Document:
    """Four elements, a twin of the first and a pad before it."""
    names = ["brass-3", "bronze-13", "zinc-12", "steel-14", "brass-3b", "brass-3-pad"]
    trial = trial_document(elements=names, channels=36, **fields)
    values = readings([*effects, effects[0] + 0.02, effects[0] - 1.6], rounds=rounds, channels=36)
    usual = (
        (caution("unitless-total", "note", unit=trial["meter"]["unit"]),)
        if "bars" in trial["meter"]["unit"]
        else ()
    )
    return document(trial, values, cautions=(*usual, *cautions))


def one_round(**fields: Any) -> Document:
    """The same elements after one scan only."""
    rounds = {"rounds_done": 1, "fewest_rounds": 3}
    return six_elements(rounds=1, cautions=(caution("one-round", "warning", **rounds),), **fields)


def one_element() -> Document:
    """Nothing to compare with."""
    return document(trial_document(elements=["brass-3"], channels=8), readings([0.0], rounds=3, channels=8))


def all_at_ceiling() -> Document:
    """Every reading at the top of the scale: no level is left."""
    trial = trial_document(elements=["brass-3", "bronze-13", "zinc-12"], channels=6)
    full = document(trial, np.full((3, 4, 6), 10.0))
    runs = [{"element": name["id"], "round": 1} for name in trial["elements"]]
    why = "same end of the scale in every run"
    full["read_as"]["left_out"] = [
        {"rf_channel": entry["rf_channel"], "why": why, "runs": runs} for entry in full["channels"]
    ]
    for entry in full["elements"]:
        entry.update(score=None, score_interval=None, place=None, rank=None, standing=None)
    for pair in full["pairs"]:
        pair.update(
            difference=None, interval=None, p_value=None, adjusted_p_value=None, outcome=MORE, winner=None
        )
        pair.update(
            standard_error=None, bootstrap=None, hodges_lehmann=None, present_outcome=MORE, more_rounds=None
        )
    full["verdict"].update(outcome=MORE, winner=None, leading=[], against=[], decided_at_round=None)
    full["verdict"].update(reasons=[_reason("no-level")], more_rounds=None, more_rounds_safe=None, hours=None)
    full["repeatability"] = None
    full["value_pick"] = {"element": None, "reason": "not settled", "undecided": []}
    evidence = {"readings": 72, "of": 72, "share": 1.0, "rf_channels": [str(21 + i) for i in range(6)]}
    full["cautions"].insert(0, caution("at-ceiling", "warning", **evidence))
    return full


def known_noise() -> Document:
    """One round, but the noise is known from elsewhere."""
    known = {"sd": 0.21, "degrees_of_freedom": 9, "rf_channels": ["21"], "from": "ten remounts, 12 May"}
    full = two_elements(effects=(2.4, 0.0), rounds=1, known_repeatability=known)
    pair = full["pairs"][0]
    interval = {"low": 1.1, "high": 3.4, "level": 0.95, "method": "studentised range, known repeatability"}
    pair.update(difference=2.25, interval=interval, standard_error=0.371, outcome=CLEAR, winner="brass-3")
    pair.update(p_value=None, adjusted_p_value=0.0021, decided_at_round=1, present_outcome=CLEAR)
    rival = {"element": "bronze-13", "difference": 2.25, "low": 1.3, "high": 3.2, "outcome": CLEAR}
    full["verdict"].update(
        outcome=CLEAR, winner="brass-3", leading=["brass-3"], against=[rival], decided_at_round=1
    )
    full["verdict"]["reasons"] = [_reason("settled")]
    second = next(entry for entry in full["elements"] if entry["id"] == "bronze-13")
    top = full["elements"][0]["score"]
    second.update(place=2, standing="behind the leader", score_interval={"low": top - 3.2, "high": top - 1.3})
    full["value_pick"] = {"element": "brass-3", "reason": "only the leader", "undecided": []}
    full["method"]["design"] = "one round, known noise"
    full["repeatability"] = {
        "sd": 0.21,
        "limit": 0.588,
        "degrees_of_freedom": 9,
        "icc": None,
        "from": "known",
    }
    evidence = {"sd": 0.21, "degrees_of_freedom": 9, "from": "ten remounts, 12 May"}
    full["cautions"].insert(0, caution("rests-on-known-repeatability", "warning", **evidence))
    return full


def incomplete_rounds() -> Document:
    """Two runs are missing, and one element has too few for a judgement."""
    missing = [{"element": "zinc-12", "round": 2}, {"element": "steel-14", "round": 3}]
    evidence = {"missing": missing, "not_judged": ["steel-14"]}
    full = six_elements(cautions=(caution("incomplete-rounds", "warning", **evidence),))
    full["method"]["design"] = "incomplete rounds"
    full["provenance"]["runs"].update(done=34)
    full["verdict"]["reasons"].append(_reason("not-judged", elements=["steel-14"]))
    for name, round_ in (("zinc-12", 2), ("steel-14", 3)):
        entry = next(item for item in full["elements"] if item["id"] == name)
        entry["rounds"] -= 1
        entry["round_scores"] = [score for score in entry["round_scores"] if score["round"] != round_]
    return full


def db_meter() -> Document:
    """A meter that shows a level in decibels; no total, no shares."""
    meter = {
        "unit": "dBuV",
        "lowest": None,
        "highest": None,
        "resolution": 0.1,
        "needed": 45.0,
        "impedance_ohm": 75.0,
    }
    trial = trial_document(elements=["brass-3", "bronze-13", "zinc-12"], channels=10, meter=meter, margin=1.0)
    values = readings([1.5, 0.1, 0.0], rounds=6, channels=10, sd=0.4) + 48.0
    full = document(trial, values)
    for entry in full["elements"]:
        entry.update(total=None, total_possible=None, percent_of_best=None)
    return full


def _reason(code: str, **evidence: Any) -> Document:
    return {"code": code, "evidence": evidence, "message": None}


def _pair(trial: Document, scores: Readings, i: int, j: int) -> Document:
    ids = [entry["id"] for entry in trial["elements"]]
    rounds, count = scores.shape[1], len(scores)
    gap = scores[i] - scores[j]
    known = rounds >= 3
    error = float(np.sqrt(max(gap.var(ddof=1), 1e-6) / rounds)) if known else None
    reach = _critical(trial, count, rounds) * error if error is not None else None
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


def _critical(trial: Document, count: int, rounds: int) -> float:
    df = max(1, (count - 1) * (rounds - 1))
    if count <= 2:
        return float(t.ppf((1 + trial["confidence"]) / 2, df))
    return float(studentized_range.ppf(trial["confidence"], count, df) / np.sqrt(2))


def _outcome(low: float | None, high: float | None, margin: float) -> str:
    if low is None or high is None:
        return MORE
    if -margin <= low and high <= margin:
        return WITHIN
    return CLEAR if low > 0 or high < 0 else MORE


def _elements(trial: Document, values: Readings, scores: Readings) -> list[Document]:
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
    pair = None if k == leader or not competes else _pair(trial, scores, min(k, leader), max(k, leader))
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


def _verdict(trial: Document, elements: list[Document], pairs: list[Document], rounds: int) -> Document:
    competing = sorted((e for e in elements if e["role"] == "competes"), key=lambda e: e["rank"])
    best = competing[0]["id"]
    against = [_against(pairs, best, entry["id"]) for entry in competing[1:]]
    outcomes = {rival["outcome"] for rival in against}
    outcome = MORE if not outcomes or MORE in outcomes else WITHIN if WITHIN in outcomes else CLEAR
    open_ = [rival["element"] for rival in against if rival["outcome"] == MORE]
    fewest = 6 if len(elements) == 2 else 3 if len(elements) > 2 else None
    if not against:
        reasons = [_reason("nothing-to-compare")]
    elif rounds < 3:
        reasons = [_reason("too-few-rounds", fewest_rounds=fewest, rounds_done=rounds)]
    else:
        reasons = [_reason("not-told-apart", elements=open_) if open_ else _reason("settled")]
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


def _one_scan(trial: Document, elements: list[Document]) -> Document:
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


def _repeatability(scores: Readings) -> Document | None:
    if scores.shape[1] < 2:
        return None
    inside = scores - scores.mean(axis=0) - scores.mean(axis=1)[:, None] + scores.mean()
    df = max(1, (scores.shape[0] - 1) * (scores.shape[1] - 1))
    sd = float(np.sqrt((inside**2).sum() / df))
    return {"sd": sd, "limit": 2.8 * sd, "degrees_of_freedom": df, "icc": 0.81, "from": "this trial"}


def _value_pick(elements: list[Document], pairs: list[Document]) -> Document:
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
        return {"element": pick, "reason": "cheapest", "undecided": open_}
    reason = "not settled" if open_ else "no costs" if as_good else "only the leader"
    return {"element": leader if reason == "only the leader" else None, "reason": reason, "undecided": open_}
