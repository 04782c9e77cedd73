"""Cautions of a plan as pages, run sheets and terminals show them.

The message in the document is for whoever writes documents and names their fields; a page has none of these.
"""

from collections.abc import Mapping
from functools import partial
from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.cautions import Write, elements
from reports.wording.plan_cautions import asked_of_channels, no_control
from reports.wording.speech import Speech, sentences


def shown(speech: Speech, caution: doc.Entry) -> str:
    """What a reader is told: the message, in other words where that names fields."""
    write = _IN_OTHER_WORDS.get(caution["code"])
    return caution["message"] if write is None else write(speech, caution["evidence"])


def _fewer_than_planned(speech: Speech, evidence: doc.Entry) -> str:
    return say(
        "The trial's plan says {planned}; the time is enough for {number}. Before the first run, plan as "
        "many rounds as will be done, or come back for the rest: the rule spends its error up to the planned "
        "end.",
        planned=speech.rounds(evidence["planned_rounds"]),
        number=numerals.count(evidence["rounds"]),
    )


_CONTROLS: Final = {
    "twin": marked(
        "a spare copy of one {thing}, which must come out the same, tells whether the trial is fooled"
    ),
    "pad": marked(
        "the reference with a known attenuator in line, which must come out weaker, tells whether the trial "
        "would notice"
    ),
}


def _displayed_numbers(_speech: Speech, evidence: doc.Entry) -> str:
    return sentences(
        asked_of_channels(evidence),
        say(
            "Look it up in the receiver's signal details and write it beside the channel, so that channels "
            "of one signal are counted once."
        ),
    )


def _channels_not_named(_speech: Speech, _evidence: doc.Entry) -> str:
    return say(
        "The trial names no channels. Scan once, list them with the plan, each with its RF channel, and the "
        "sheet and the workbook carry them; every run must scan the same ones."
    )


def _noise_not_known(_speech: Speech, _evidence: doc.Entry) -> str:
    return say(
        "How much a reading moves from one mounting to the next is not known, so what the plan detects is "
        "told in run-to-run standard deviations. Once some rounds have been read, a plan that goes on with "
        "them tells it in meter units."
    )


def _gauge_table_unknown(speech: Speech, evidence: doc.Entry) -> str:
    return sentences(
        elements.gauges(speech, evidence),
        say("Measure the diameter and give it in millimetres, or say by which table its gauge counts."),
    )


_IN_OTHER_WORDS: Final[Mapping[str, Write]] = {
    "fewer-than-planned": _fewer_than_planned,
    "no-control": partial(no_control, controls=_CONTROLS),
    "gauge-table-unknown": _gauge_table_unknown,
    "displayed-numbers": _displayed_numbers,
    "channels-not-named": _channels_not_named,
    "noise-not-known": _noise_not_known,
}
