"""The cautions of a plan by their codes; those about elements are worded as in reports of verdicts.

They stand in the document and name its fields; what a reader is shown instead stands in `plan_notes`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording import cautions
from reports.wording.cautions import Write
from reports.wording.speech import Speech, listed, sentences

MOST_TOLD = 8


@dataclass(frozen=True)
class _Caution:
    """How one caution is headed, and how its message is written from the evidence."""

    title: str
    write: Write


def title(code: str) -> str:
    """The heading of a caution; KeyError for a code without one."""
    return say(_OWN[code].title) if code in _OWN else cautions.title(code)


def message(speech: Speech, code: str, evidence: doc.Entry) -> str:
    """What the caution means and what to do; KeyError for a code without a message."""
    return _OWN[code].write(speech, evidence) if code in _OWN else cautions.message(speech, code, evidence)


def _too_few_rounds(speech: Speech, evidence: doc.Entry) -> str:
    return say(
        "{rounds} of {elements} cannot settle anything, whatever the readings: the rule decides nothing so "
        "early. Take more time, fewer {things} or a quicker run, or measure the spread of remounts first.",
        rounds=speech.rounds(evidence["rounds"]),
        elements=speech.compared(evidence["elements"]),
        things=speech.things.many,
    )


def _fewer_than_planned(speech: Speech, evidence: doc.Entry) -> str:
    return say(
        "The trial's plan says {planned}; the time is enough for {number}. Before the first run, set "
        "planned_rounds to what will be done, or come back for the rest: the rule spends its error up to the "
        "planned end.",
        planned=speech.rounds(evidence["planned_rounds"]),
        number=numerals.count(evidence["rounds"]),
    )


def _worthwhile_out_of_reach(speech: Speech, evidence: doc.Entry) -> str:
    return say(
        "What you find worthwhile ({worthwhile}) is less than this plan is likely to detect ({detectable}). "
        "More rounds, fewer elements or a quieter meter bring it nearer.",
        worthwhile=speech.amount(evidence["worthwhile_difference"]),
        detectable=speech.measured(numerals.two_digits(evidence["detectable_difference"])),
    )


def _margin_below(speech: Speech, evidence: doc.Entry) -> str:
    return say(
        "The margin ({margin}) is under twice the run-to-run standard deviation ({sd}). Equal {things} will "
        "hardly ever be shown to be within it; from about {useful} on they may be.",
        margin=speech.amount(evidence["margin"]),
        sd=speech.measured(numerals.two_digits(evidence["sd"])),
        things=speech.things.many,
        useful=speech.measured(numerals.two_digits(evidence["smallest_useful_margin"])),
    )


def _long_rounds(_speech: Speech, evidence: doc.Entry) -> str:
    return say(
        "One round takes {time}. Signals move with weather and hour, and a round only cancels what stays the "
        "same while it lasts: make a run shorter, or compare fewer at a time.",
        time=numerals.duration(evidence["hours"]),
    )


def _plan_done(speech: Speech, evidence: doc.Entry) -> str:
    return say(
        "All {rounds} of the plan are done. Ask for the verdict; it says whether more rounds are needed.",
        rounds=speech.rounds(evidence["planned_rounds"]),
    )


def _rounds_with_gaps(speech: Speech, evidence: doc.Entry) -> str:
    runs = [
        say("{element} in round {number}", element=speech.name(entry["element"]), number=entry["round"])
        for entry in evidence["missing"]
    ]
    return say(
        "Runs are missing so far: {runs}. A run made on another day would not belong to its round any more, "
        "so such rounds count as not done, and whole rounds are planned. What was read of them still counts "
        "in the verdict.",
        runs=listed(runs, most=MOST_TOLD),
    )


def _no_reference(speech: Speech, _evidence: doc.Entry) -> str:
    return say(
        "No reference is named. Name one {thing} that is run in every round and never altered: by it drift "
        "is seen, and trials of two days can be compared.",
        thing=speech.things.one,
    )


_CONTROLS: Final = {
    "twin": marked(
        "a spare copy of one {thing} (twin_of), which must come out the same, tells whether the trial is "
        "fooled"
    ),
    "pad": marked(
        "the reference with a known attenuator in line (pad_of, pad_db), which must come out weaker, tells "
        "whether the trial would notice"
    ),
}


def no_control(speech: Speech, evidence: doc.Entry, *, controls: Mapping[str, str] = _CONTROLS) -> str:
    """The controls that are lacking, each in the words of `controls`."""
    lacking = [say(controls[role], thing=speech.things.one) for role in evidence["lacking"]]
    return say("Worth a run in each round: {controls}.", controls="; ".join(lacking))


_QUESTIONS: Final = {
    "not stated": marked("On which RF channel is {channels}? What a receiver displays is not it."),
    "as displayed": marked(
        "Is the RF channel given for {channels} really that, or the number the receiver displays?"
    ),
    "not in the region": marked(
        "The RF channel given for {channels} is none of the region: is it a displayed number?"
    ),
}


def _displayed_numbers(_speech: Speech, evidence: doc.Entry) -> str:
    return sentences(
        asked_of_channels(evidence),
        say(
            "Look it up in the receiver's signal details and fill in rf_channel, so that channels of one "
            "signal are counted once."
        ),
    )


def asked_of_channels(evidence: doc.Entry) -> str:
    """The questions about the RF channels, without what to do about them."""
    return sentences(*(_asked(evidence, why) for why in _QUESTIONS))


def _asked(evidence: doc.Entry, why: str) -> str:
    channels = [entry["channel"] for entry in evidence["channels"] if entry["why"] == why]
    return say(_QUESTIONS[why], channels=listed(channels, most=MOST_TOLD)) if channels else ""


def _channels_not_named(_speech: Speech, _evidence: doc.Entry) -> str:
    return say(
        "The trial names no channels. Scan once, list them under {field} with their rf_channel, and the "
        "sheet and the workbook carry them; every run must scan the same ones.",
        field="channels",
    )


def _noise_not_known(_speech: Speech, _evidence: doc.Entry) -> str:
    return say(
        "How much a reading moves from one mounting to the next is not known, so what the plan detects is "
        "told in run-to-run standard deviations. Ten remounts of the reference, given as "
        "known_repeatability, turn it into meter units."
    )


_OWN: Final[Mapping[str, _Caution]] = {
    "too-few-rounds": _Caution(marked("Too few rounds for any verdict"), _too_few_rounds),
    "fewer-than-planned": _Caution(marked("Fewer rounds than planned"), _fewer_than_planned),
    "worthwhile-out-of-reach": _Caution(
        marked("What is worthwhile is out of reach"), _worthwhile_out_of_reach
    ),
    "margin-below-repeatability": _Caution(marked("Margin finer than the noise"), _margin_below),
    "long-rounds": _Caution(marked("Long rounds"), _long_rounds),
    "plan-done": _Caution(marked("The plan is done"), _plan_done),
    "rounds-with-gaps": _Caution(marked("Rounds with gaps"), _rounds_with_gaps),
    "no-reference": _Caution(marked("No reference"), _no_reference),
    "no-control": _Caution(marked("No check on the trial itself"), no_control),
    "displayed-numbers": _Caution(marked("Displayed numbers or RF channels"), _displayed_numbers),
    "channels-not-named": _Caution(marked("Channels not named"), _channels_not_named),
    "noise-not-known": _Caution(marked("Noise not known"), _noise_not_known),
}
