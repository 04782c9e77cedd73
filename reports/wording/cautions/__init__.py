"""Every caution by its code: a title, and a message that says what it means and what to do about it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from reports import document as doc
from reports.wording.cautions import controls, elements, history, meter, rounds, signals, steadiness
from reports.wording.speech import Speech, listed, sentences

Write = Callable[[Speech, doc.Entry], str]


@dataclass(frozen=True)
class CautionText:
    """How one caution is headed, and how its message is written from the evidence."""

    title: str
    write: Write


CAUTIONS: Final[Mapping[str, CautionText]] = {
    "one-round": CautionText("One round only", rounds.one_round),
    "few-rounds": CautionText("Fewer rounds than planned or needed", rounds.few_rounds),
    "one-mounting": CautionText("Many scans, one mounting", rounds.one_mounting),
    "rounds-inferred": CautionText("Rounds were inferred", rounds.rounds_inferred),
    "incomplete-rounds": CautionText("Incomplete rounds", rounds.incomplete_rounds),
    "far-apart": CautionText("Runs of one round far apart", rounds.far_apart),
    "not-connected": CautionText("No round joins them", rounds.not_connected),
    "order-fixed": CautionText("The order of the runs was not shuffled", rounds.order_fixed),
    "plan-not-stated": CautionText("Plan not stated", rounds.plan_not_stated),
    "plan-changed": CautionText("Plan changed after readings came", history.plan_changed),
    "unplanned-looks": CautionText("Looks that were not planned", rounds.unplanned_looks),
    "runs-struck": CautionText("Runs taken out", rounds.runs_struck),
    "outcome-hangs-on-strike": CautionText("The outcome hangs on what was taken out", rounds.hangs_on_strike),
    "rf-channel-unknown": CautionText("RF channel unknown", signals.unknown),
    "rf-channel-guessed": CautionText("RF channel guessed from the name", signals.guessed),
    "shared-rf-channel": CautionText("Channels that are one signal", signals.shared),
    "one-rf-channel": CautionText("One signal only", signals.one),
    "depends-on-channels": CautionText("It depends on the channels", signals.depends),
    "bands-disagree": CautionText("The bands disagree", signals.bands_disagree),
    "one-rf-channel-decides": CautionText("Reception hangs on one signal", signals.one_decides),
    "blanks-read-as-lost": CautionText("Blanks read as nothing found", meter.blanks),
    "at-ceiling": CautionText("Readings at the top of the scale", meter.at_ceiling),
    "at-floor": CautionText("Readings at the bottom of the scale", meter.at_floor),
    "coarse-meter": CautionText("The meter is coarse", meter.coarse),
    "unitless-total": CautionText("The total has no unit", meter.unitless_total),
    "identical-runs": CautionText("Runs that are identical", meter.identical_runs),
    "drift": CautionText("The level drifted", steadiness.drift),
    "reference-step": CautionText("The reference stepped", steadiness.reference_step),
    "unequal-noise": CautionText("One is noisier than the others", steadiness.unequal_noise),
    "odd-run": CautionText("One run is out of line", steadiness.odd_run),
    "odd-channel-round": CautionText("One signal moved for all", steadiness.odd_channel_round),
    "margin-below-repeatability": CautionText("Margin finer than the noise", meter.margin_below),
    "rests-on-known-repeatability": CautionText("Rests on a known repeatability", meter.known_repeatability),
    "twin-differs": CautionText("The spare copy came out different", controls.twin_differs),
    "pad-not-seen": CautionText("The known weakener was not seen", controls.pad_not_seen),
    "geometry-differs": CautionText("Shapes differ as well as metals", elements.geometry_differs),
    "several-things-differ": CautionText("Metal and diameter differ at once", elements.several_things_differ),
    "gauge-table-unknown": CautionText("A gauge number without its table", elements.gauge_table_unknown),
    "beyond-conductor-loss": CautionText("More than the metal can make", elements.beyond_conductor_loss),
    "safety": CautionText("Safety", controls.safety),
}


def title(code: str) -> str:
    """The heading of a caution; KeyError for a code without one."""
    return CAUTIONS[code].title


def phrase(code: str) -> str:
    """The heading within a sentence: small at the start, but for an abbreviation."""
    head = title(code)
    return head if head[1:2].isupper() else head[:1].lower() + head[1:]


def message(speech: Speech, code: str, evidence: doc.Entry) -> str:
    """What the caution means and what to do; KeyError for a code without a message."""
    return sentences(CAUTIONS[code].write(speech, evidence), _touched(speech, evidence))


def _touched(speech: Speech, evidence: doc.Entry) -> str:
    touched = evidence.get("pairs_touched")
    if not touched:
        return ""
    return f"It touches {_pairs(speech, touched)}; {_standing(speech, evidence['pairs_standing'])}."


def _standing(speech: Speech, standing: list[list[str]]) -> str:
    return (
        f"still standing: {_pairs(speech, standing)}"
        if standing
        else "no other clear result is left standing"
    )


def _pairs(speech: Speech, pairs: list[list[str]]) -> str:
    return listed([f"{speech.name(first)} against {speech.name(second)}" for first, second in pairs], most=4)
