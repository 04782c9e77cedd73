"""Complete analysis documents for the report tests: invented readings, figures of the right kind.

The fields are those of every analysis document. The intervals are plain t intervals, not the service's own
method: a report only prints what it is given, so its tests need documents that hang together, not judgements.
"""

import hashlib
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.reports.sample_judgement import (
    CLEAR,
    MORE,
    elements_of,
    looks_taken,
    one_scan,
    pair_of,
    pick_entry,
    reason,
    repeatability,
    value_pick,
    verdict_of,
)
from tests.reports.sample_parts import (
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


def readings(effects: list[float], *, rounds: int, channels: int, sd: float = 0.3, seed: int = 7) -> Readings:
    """Invented readings of a ten-bar meter."""
    draw = np.random.default_rng(seed)
    base = draw.uniform(2.0, 7.5, channels)
    level = base + np.array(effects)[:, None, None] + draw.normal(0, sd, (len(effects), rounds, 1))
    return np.clip(np.round(level + draw.normal(0, 0.7, (len(effects), rounds, channels))), 0, 10)


def document(trial: Document, values: Readings, *, cautions: tuple[Document, ...] = ()) -> Document:
    """An analysis document of complete rounds."""
    scores = values.mean(axis=2)
    pairs = [pair_of(trial, scores, i, j) for i in range(len(scores)) for j in range(i + 1, len(scores))]
    elements = elements_of(trial, values, scores)
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
        "verdict": verdict_of(trial, elements, pairs, rounds),
        "elements": elements,
        "pairs": pairs,
        "all_equal": {
            "name": "friedman",
            "statistic": 14.2,
            "p_value": 0.0123,
            "method": "19999 draws",
            "kendall_w": 0.47,
        },
        "one_scan": one_scan(trial, elements) if rounds == 1 else None,
        "repeatability": repeatability(scores),
        "drift": None,
        "reception": reception(trial, values),
        "bands": None,
        "conductor_loss": None,
        "channels": channel_entries(trial, values),
        "value_pick": value_pick(elements, pairs),
        "struck": {"runs": list(trial["struck"]), "without_strikes": None},
        "looks": schedule(trial, rounds) | {"taken": looks_taken(trial, values)},
        "history": None,
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
    rounds = {"rounds_done": 1, "fewest_rounds": 3, "known_noise": False, "most_mountings": 1}
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
    full["verdict"].update(reasons=[reason("no-level")], more_rounds=None, more_rounds_safe=None, hours=None)
    full["repeatability"] = None
    full["value_pick"] = pick_entry(None, "not settled", [], basis="cost")
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
    full["verdict"]["reasons"] = [reason("settled")]
    second = next(entry for entry in full["elements"] if entry["id"] == "bronze-13")
    top = full["elements"][0]["score"]
    second.update(place=2, standing="behind the leader", score_interval={"low": top - 3.2, "high": top - 1.3})
    full["value_pick"] = pick_entry("brass-3", "only the leader", [])
    full["method"]["design"] = "one round, known noise"
    full["repeatability"] = {
        "sd": 0.21,
        "limit": 0.588,
        "degrees_of_freedom": 9,
        "icc": None,
        "from": "known",
    }
    evidence = {"sd": 0.21, "degrees_of_freedom": 9, "from": "ten remounts, 12 May"}
    evidence |= {"source": "known", "rounds": 1}
    full["cautions"].insert(0, caution("rests-on-known-repeatability", "warning", **evidence))
    full["one_scan"].update(known_sd=0.21, remount_test=None, fewest_rounds=1)
    full["verdict"]["fewest_rounds"] = 1
    rounds = {"rounds_done": 1, "fewest_rounds": 1, "known_noise": True, "most_mountings": 1}
    full["cautions"].insert(0, caution("one-round", "note", **rounds))
    return full


def incomplete_rounds() -> Document:
    """Two runs are missing, and one element has too few for a judgement."""
    missing = [{"element": "zinc-12", "round": 2}, {"element": "steel-14", "round": 3}]
    evidence = {"missing": missing, "not_judged": ["steel-14"]}
    full = six_elements(cautions=(caution("incomplete-rounds", "warning", **evidence),))
    full["method"]["design"] = "incomplete rounds"
    full["provenance"]["runs"].update(done=34)
    full["verdict"]["reasons"].append(reason("not-judged", elements=["steel-14"]))
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
