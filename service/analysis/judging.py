"""The scores of a trial handed to the decision rule, and to what stands beside it."""

import numpy as np

from service.analysis.facts import competing
from service.analysis.noise import EarlyNoise, Noise, early_noise, noise
from service.statistics.bell_reference import Store
from service.statistics.crossed_bootstrap import BootstrapInterval, crossed_bootstrap
from service.statistics.judgement import judge
from service.statistics.results import Judgement, KnownNoise, Repeats, Rule
from service.statistics.settling import Settling, settling
from service.trial.scores import ScoreTable
from service.trial.trial import Trial


def judged(trial: Trial, table: ScoreTable, *, store: Store) -> tuple[Judgement, Noise, EarlyNoise]:
    """The judgement of the trial's scores, the noise of its mountings, and what was known of it early on."""
    known, repeats = _known(trial, table), _repeats(table)
    judgement = judge(
        table.scores,
        _rule(trial, table),
        competing=competing(trial),
        store=store,
        known=known,
        repeats=repeats,
    )
    return (
        judgement,
        noise(table.scores, judgement, known=known, repeats=repeats),
        early_noise(table.scores, judgement, known=known, repeats=repeats),
    )


def chances_to_settle(trial: Trial, table: ScoreTable, *, rounds: int, store: Store) -> Settling:
    """How likely so many rounds to come settle a trial under way, by the rule that will judge it."""
    return settling(
        table.scores,
        _rule(trial, table),
        competing=competing(trial),
        store=store,
        known=_known(trial, table),
        repeats=_repeats(table),
        rounds=rounds,
    )


def bootstraps(trial: Trial, table: ScoreTable, judgement: Judgement) -> tuple[BootstrapInterval | None, ...]:
    """The crossed bootstrap of each pair, None for all where no RF channel entered."""
    pairs = [(pair.first, pair.second) for pair in judgement.pairs]
    if not table.rf_channels:
        return (None,) * len(pairs)
    return crossed_bootstrap(table.cells, pairs, level=trial.confidence, seed=trial.seed)


def _rule(trial: Trial, table: ScoreTable) -> Rule:
    """The rule as the plan fixed it; rounding to steps of q leaves q^2 / (6 M) in a difference."""
    step, channels = table.resolution or 0.0, max(1, len(table.rf_channels))
    return Rule(
        planned=trial.planned_rounds,
        alpha=1.0 - trial.confidence,
        every_round=trial.looks == "every round",
        margin=trial.margin,
        floor=step**2 / (6 * channels),
        seed=trial.seed,
    )


def _known(trial: Trial, table: ScoreTable) -> KnownNoise | None:
    """The known repeatability; without RF channels there is no score that it could belong to."""
    known = trial.known_repeatability
    return None if known is None or not table.rf_channels else KnownNoise(known.sd, known.degrees_of_freedom)


def _repeats(table: ScoreTable) -> Repeats | None:
    """The scores of single mountings where some round holds several of one element."""
    element, number, score = table.mounting_scores
    known = np.isfinite(score)
    if table.mountings.max(initial=0) < 2 or not known.any():
        return None
    return Repeats(element[known], number[known], score[known])
