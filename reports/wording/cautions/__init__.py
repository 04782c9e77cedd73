"""Every caution by its code: a title, and a message that says what it means and what to do about it."""

from collections.abc import Callable, Mapping
from typing import Final

from reports import document as doc
from reports.language import say
from reports.wording.cautions import (
    controls,
    elements,
    history,
    known_noise,
    meter,
    odd_run,
    order,
    rounds,
    signals,
    steadiness,
    strikes,
)
from reports.wording.cautions.headings import PHRASES, TITLES
from reports.wording.speech import Speech, sentences

MOST_PAIRS: Final = 4
Write = Callable[[Speech, doc.Entry], str]

CAUTIONS: Final[Mapping[str, Write]] = {
    "one-round": rounds.one_round,
    "few-rounds": rounds.few_rounds,
    "one-mounting": rounds.one_mounting,
    "rounds-inferred": rounds.rounds_inferred,
    "incomplete-rounds": rounds.incomplete_rounds,
    "far-apart": rounds.far_apart,
    "not-connected": rounds.not_connected,
    "order-fixed": order.order_fixed,
    "plan-not-stated": rounds.plan_not_stated,
    "plan-changed": history.plan_changed,
    "unplanned-looks": rounds.unplanned_looks,
    "runs-struck": strikes.runs_struck,
    "outcome-hangs-on-strike": strikes.hangs_on_strike,
    "rf-channel-unknown": signals.unknown,
    "rf-channel-guessed": signals.guessed,
    "shared-rf-channel": signals.shared,
    "one-rf-channel": signals.one,
    "depends-on-channels": signals.depends,
    "bands-disagree": signals.bands_disagree,
    "one-rf-channel-decides": signals.one_decides,
    "blanks-read-as-lost": meter.blanks,
    "at-ceiling": meter.at_ceiling,
    "at-floor": meter.at_floor,
    "coarse-meter": meter.coarse,
    "unitless-total": meter.unitless_total,
    "identical-runs": meter.identical_runs,
    "drift": steadiness.drift,
    "reference-step": steadiness.reference_step,
    "unequal-noise": steadiness.unequal_noise,
    "odd-run": odd_run.odd_run,
    "odd-channel-round": steadiness.odd_channel_round,
    "margin-below-repeatability": meter.margin_below,
    "rests-on-known-repeatability": known_noise.known_repeatability,
    "twin-differs": controls.twin_differs,
    "pad-not-seen": controls.pad_not_seen,
    "geometry-differs": elements.geometry_differs,
    "several-things-differ": elements.several_things_differ,
    "gauge-table-unknown": elements.gauge_table_unknown,
    "beyond-conductor-loss": elements.beyond_conductor_loss,
    "safety": controls.safety,
}
"""How the message of each is written from its evidence."""


def title(code: str) -> str:
    """The heading of a caution; KeyError for a code without one."""
    return say(TITLES[code])


def phrase(code: str) -> str:
    """The heading within a sentence; KeyError for a code without one."""
    return say(PHRASES[code])


def message(speech: Speech, code: str, evidence: doc.Entry) -> str:
    """What the caution means and what to do; KeyError for a code without a message."""
    return sentences(CAUTIONS[code](speech, evidence), _touched(speech, evidence))


def _touched(speech: Speech, evidence: doc.Entry) -> str:
    touched = evidence.get("pairs_touched")
    if not touched:
        return ""
    pairs, standing = speech.pairs(touched, most=MOST_PAIRS), evidence["pairs_standing"]
    if not standing:
        return say("It touches {pairs}; no other clear result is left standing.", pairs=pairs)
    still = speech.pairs(standing, most=MOST_PAIRS)
    return say("It touches {pairs}; still standing: {standing}.", pairs=pairs, standing=still)
