"""The cautions of a plan by their codes; those about elements are worded as in reports of verdicts."""

from collections.abc import Mapping
from typing import Final

from reports import document as doc
from reports import numerals
from reports.wording import cautions
from reports.wording.cautions import CautionText
from reports.wording.speech import Speech, listed

MOST_TOLD = 8


def title(code: str) -> str:
    """The heading of a caution; KeyError for a code without one."""
    return _OWN[code].title if code in _OWN else cautions.title(code)


def message(speech: Speech, code: str, evidence: doc.Entry) -> str:
    """What the caution means and what to do; KeyError for a code without a message."""
    return _OWN[code].write(speech, evidence) if code in _OWN else cautions.message(speech, code, evidence)


def _too_few_rounds(speech: Speech, evidence: doc.Entry) -> str:
    return (
        f"{speech.rounds(evidence['rounds'])} of {speech.compared(evidence['elements'])} cannot settle "
        "anything, whatever the readings: the rule decides nothing so early. Take more time, fewer "
        f"{speech.things.many} or a quicker run, or measure the spread of remounts first."
    )


def _fewer_than_planned(speech: Speech, evidence: doc.Entry) -> str:
    planned = speech.rounds(evidence["planned_rounds"])
    return (
        f"The trial's plan says {planned}; the time is enough for {numerals.count(evidence['rounds'])}. "
        "Before the first run, set planned_rounds to what will be done, or come back for the rest: the rule "
        "spends its error up to the planned end."
    )


def _worthwhile_out_of_reach(speech: Speech, evidence: doc.Entry) -> str:
    detectable = speech.measured(numerals.two_digits(evidence["detectable_difference"]))
    return (
        f"What you find worthwhile ({speech.amount(evidence['worthwhile_difference'])}) is less than this "
        f"plan is likely to detect ({detectable}). "
        "More rounds, fewer elements or a quieter meter bring it nearer."
    )


def _margin_below(speech: Speech, evidence: doc.Entry) -> str:
    useful = speech.measured(numerals.two_digits(evidence["smallest_useful_margin"]))
    sd = speech.measured(numerals.two_digits(evidence["sd"]))
    return (
        f"The margin ({speech.amount(evidence['margin'])}) is under twice the run-to-run standard deviation "
        f"({sd}). Equal {speech.things.many} will hardly ever be shown to be within it; from about {useful} "
        "on they may be."
    )


def _long_rounds(_speech: Speech, evidence: doc.Entry) -> str:
    return (
        f"One round takes {numerals.duration(evidence['hours'])}. Signals move with weather and hour, and a "
        "round only cancels what stays the same while it lasts: make a run shorter, or compare fewer at "
        "a time."
    )


def _plan_done(speech: Speech, evidence: doc.Entry) -> str:
    return (
        f"All {speech.rounds(evidence['planned_rounds'])} of the plan are done. Ask for the verdict; it says "
        "whether more rounds are needed."
    )


def _rounds_with_gaps(speech: Speech, evidence: doc.Entry) -> str:
    runs = [f"{speech.name(entry['element'])} in round {entry['round']}" for entry in evidence["missing"]]
    return (
        f"Runs are missing so far: {listed(runs, most=MOST_TOLD)}. A run made on another day would not "
        "belong to its round any more, so such rounds count as not done, and whole rounds are planned. What "
        "was read of them still counts in the verdict."
    )


def _no_reference(speech: Speech, _evidence: doc.Entry) -> str:
    return (
        f"No reference is named. Name one {speech.things.one} that is run in every round and never altered: "
        "by it drift is seen, and trials of two days can be compared."
    )


def _no_control(speech: Speech, evidence: doc.Entry) -> str:
    told = {
        "twin": f"a spare copy of one {speech.things.one} (twin_of), which must come out the same, tells "
        "whether the trial is fooled",
        "pad": "the reference with a known attenuator in line (pad_of, pad_db), which must come out weaker, "
        "tells whether the trial would notice",
    }
    lacking = [told[role] for role in evidence["lacking"]]
    return f"Worth a run in each round: {'; '.join(lacking)}."


def _displayed_numbers(_speech: Speech, evidence: doc.Entry) -> str:
    parts = [
        _asked(evidence, "not stated", "On which RF channel is {}? What a receiver displays is not it."),
        _asked(
            evidence,
            "as displayed",
            "Is the RF channel given for {} really that, or the number the receiver displays?",
        ),
        _asked(
            evidence,
            "not in the region",
            "The RF channel given for {} is none of the region: is it a displayed number?",
        ),
    ]
    asked = " ".join(part for part in parts if part)
    return (
        f"{asked} Look it up in the receiver's signal details and fill in rf_channel, so that channels of "
        "one signal are counted once."
    )


def _asked(evidence: doc.Entry, why: str, question: str) -> str:
    channels = [entry["channel"] for entry in evidence["channels"] if entry["why"] == why]
    return question.format(listed(channels, most=MOST_TOLD)) if channels else ""


def _channels_not_named(_speech: Speech, _evidence: doc.Entry) -> str:
    return (
        "The trial names no channels. Scan once, list them under channels with their rf_channel, and the "
        "sheet and the workbook carry them; every run must scan the same ones."
    )


def _noise_not_known(_speech: Speech, _evidence: doc.Entry) -> str:
    return (
        "How much a reading moves from one mounting to the next is not known, so what the plan detects is "
        "told in run-to-run standard deviations. Ten remounts of the reference, given as "
        "known_repeatability, turn it into meter units."
    )


_OWN: Final[Mapping[str, CautionText]] = {
    "too-few-rounds": CautionText("Too few rounds for any verdict", _too_few_rounds),
    "fewer-than-planned": CautionText("Fewer rounds than planned", _fewer_than_planned),
    "worthwhile-out-of-reach": CautionText("What is worthwhile is out of reach", _worthwhile_out_of_reach),
    "margin-below-repeatability": CautionText("Margin finer than the noise", _margin_below),
    "long-rounds": CautionText("Long rounds", _long_rounds),
    "plan-done": CautionText("The plan is done", _plan_done),
    "rounds-with-gaps": CautionText("Rounds with gaps", _rounds_with_gaps),
    "no-reference": CautionText("No reference", _no_reference),
    "no-control": CautionText("No check on the trial itself", _no_control),
    "displayed-numbers": CautionText("Displayed numbers or RF channels", _displayed_numbers),
    "channels-not-named": CautionText("Channels not named", _channels_not_named),
    "noise-not-known": CautionText("Noise not known", _noise_not_known),
}
