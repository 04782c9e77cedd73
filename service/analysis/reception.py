"""Which RF channels were received at all, apart from how strong they were."""

import numpy as np

from service.analysis.facts import Facts
from service.analysis.headroom import headroom
from service.analysis.plain_numbers import number
from service.statistics.results import Floats
from service.statistics.sign_flip import sign_flip

FEWEST_ROUNDS = 2


def reception(facts: Facts) -> dict[str, object]:
    """Rounds received and scanned by element and RF channel, Cochran's Q, and the pairs.

    What is gained and lost round by round is counted against one element: the reference, else the leader,
    else the first.
    """
    answer = facts.cochran_q
    against = facts.trial.reference or facts.leader or facts.ids[0]
    return {
        "unit": "round",
        "against": against,
        "elements": [_element(facts, index, against=facts.index(against)) for index in range(len(facts.ids))],
        "cochran_q": {
            "statistic": number(answer.statistic),
            "p_value": number(answer.p_value),
            "method": answer.method,
        },
        "pairs": [_pair(facts, pair.first, pair.second) for pair in facts.judgement.pairs],
        "headroom": headroom(facts),
    }


def _element(facts: Facts, index: int, *, against: int) -> dict[str, object]:
    scanned = np.isfinite(facts.table.received[index])
    rounds = np.nansum(facts.table.received[index], axis=0)
    return {
        "id": facts.ids[index],
        "rf_channels": [
            {"id": name, "received_rounds": int(rounds[m]), "scanned_rounds": int(scanned[:, m].sum())}
            for m, name in enumerate(facts.table.all_rf_channels)
        ],
        "by_round": _by_round(facts, index, against=against),
    }


def _by_round(facts: Facts, index: int, *, against: int) -> list[dict[str, object]]:
    """RF channels scanned and received in each round; gained and lost where both were scanned."""
    received = facts.table.received
    scanned, differences = np.isfinite(received[index]), received[index] - received[against]
    return [
        {
            "round": label,
            "scanned": int(scanned[r].sum()),
            "received": int(np.nansum(received[index, r])),
            "gained": int((differences[r] > 0).sum()),
            "lost": int((differences[r] < 0).sum()),
        }
        for r, label in enumerate(facts.rounds)
        if scanned[r].any()
    ]


def _pair(facts: Facts, first: int, second: int) -> dict[str, object]:
    """Both elements over the cells that were scanned with both."""
    differences = facts.table.received[first] - facts.table.received[second]
    names = facts.table.all_rf_channels
    by_channel = np.nansum(differences, axis=0)
    return {
        "first": facts.ids[first],
        "second": facts.ids[second],
        "only_first": [name for name, more in zip(names, by_channel, strict=True) if more > 0],
        "only_second": [name for name, more in zip(names, by_channel, strict=True) if more < 0],
        "p_value": _p_value(differences, facts.trial.seed),
    }


def _p_value(differences: Floats, seed: int) -> float | None:
    """Sign-flip p over rounds of the difference in RF channels received, (R, M) with NaN; None below two."""
    shared = np.isfinite(differences).any(axis=1)
    if int(shared.sum()) < FEWEST_ROUNDS:
        return None
    return sign_flip(np.nansum(differences[shared], axis=1), seed=seed).p_value
