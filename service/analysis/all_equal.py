"""Whether all elements are alike, by their ranks in the rounds that hold them all."""

import numpy as np

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.statistics.friedman import friedman


def all_equal(facts: Facts) -> dict[str, object]:
    """Friedman's test over the elements judged and the rounds in which each of them has a run."""
    scores = facts.table.scores[facts.judgement.judged]
    complete = scores[:, np.isfinite(scores).all(axis=0)]
    answer = friedman(complete, seed=facts.trial.seed)
    return {
        "name": "friedman",
        "statistic": number(answer.statistic),
        "p_value": number(answer.p_value),
        "method": answer.method,
        "kendall_w": number(answer.kendall_w),
    }
