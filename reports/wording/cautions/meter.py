"""Messages about what the meter shows and how quiet it is."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.speech import Speech, listed, sentences


def blanks(_speech: Speech, evidence: doc.Entry) -> str:
    """Blank cells of a wide table."""
    return say(
        "{blank} of {all} cells are blank and were read as “scanned, nothing found”. If they were not "
        "scanned, write “{mark}” into them.",
        blank=numerals.count(evidence["count"]),
        all=numerals.count(evidence["of"]),
        mark="not scanned",
    )


def at_ceiling(_speech: Speech, evidence: doc.Entry) -> str:
    """Readings at the top of the scale."""
    return sentences(
        say(
            "{readings} of {all} readings ({share}) stand at the top of the scale, where differences vanish.",
            **_share(evidence),
        ),
        _all_stuck(evidence),
        say("To see them, put an attenuator in line, the same one for every run."),
    )


def at_floor(_speech: Speech, evidence: doc.Entry) -> str:
    """Readings at the bottom of the scale."""
    return sentences(
        say(
            "{readings} of {all} readings ({share}) stand at the bottom of the scale, where differences "
            "vanish.",
            **_share(evidence),
        ),
        _all_stuck(evidence),
        say("To see them, raise the level, or choose stronger channels."),
    )


def unitless_total(_speech: Speech, evidence: doc.Entry) -> str:
    """A total of bars or per cent."""
    return sentences(
        say("A total of bars is a sum of scale steps.")
        if evidence["unit"] == "bars"
        else say("A total of per cent of a scale is a sum of scale steps."),
        say(
            "It ranks, but 10 per cent more total is not 10 per cent more signal, and it says nothing in "
            "decibels, of gain or of efficiency. Compare differences, not shares."
        ),
    )


def coarse(speech: Speech, evidence: doc.Entry) -> str:
    """Most paired differences are ties."""
    return sentences(
        _wide_steps(speech, evidence),
        say(
            "Small differences stay hidden. More RF channels help, or a meter with finer steps, or an "
            "attenuator that brings the weak channels to where they change."
        ),
    )


def _wide_steps(speech: Speech, evidence: doc.Entry) -> str:
    placed = {
        "ties": numerals.count(evidence["ties"]),
        "all": numerals.count(evidence["of"]),
        "share": numerals.per_cent(evidence["share"]),
        "things": speech.things.many,
    }
    if not evidence["resolution"]:
        return say(
            "In {ties} of {all} paired readings ({share}) two {things} show the very same value: the steps "
            "of the meter are wide against what is to be told apart.",
            **placed,
        )
    return say(
        "In {ties} of {all} paired readings ({share}) two {things} show the very same value: the steps of "
        "the meter are wide against what is to be told apart (one step is {step}).",
        **placed,
        step=speech.measured(numerals.plain(evidence["resolution"])),
    )


def identical_runs(speech: Speech, evidence: doc.Entry) -> str:
    """Runs equal in every cell."""
    pairs = [
        listed([_run(speech, pair[place]) for place in ("first", "second")]) for pair in evidence["pairs"]
    ]
    return say(
        "Equal in every reading: {pairs}. Two honest runs seldom are: check for a column copied twice, or a "
        "run without a fresh start. If so, {afresh} and scan again.",
        pairs=listed(pairs, most=4),
        afresh=speech.things.afresh,
    )


def margin_below(speech: Speech, evidence: doc.Entry) -> str:
    """The margin is too fine for “within noise” to be reachable."""
    return say(
        "You would act on {margin}, but one run differs from the next by a standard deviation of {sd} "
        "already. “Within noise” is out of reach: a margin of {useful} or more could be reached. Fix it "
        "before the next trial, not after this one.",
        margin=speech.amount(evidence["margin"]),
        sd=speech.measured(numerals.two_digits(evidence["sd"])),
        useful=speech.measured(numerals.two_digits(evidence["smallest_useful_margin"])),
    )


def _all_stuck(evidence: doc.Entry) -> str:
    stuck = list(evidence["rf_channels"])
    if not stuck:
        return ""
    return say(
        "On RF channel {rf_channels} every run does, so nothing can be told there.", rf_channels=listed(stuck)
    )


def _share(evidence: doc.Entry) -> dict[str, str]:
    return {
        "readings": numerals.count(evidence["readings"]),
        "all": numerals.count(evidence["of"]),
        "share": numerals.per_cent(evidence["share"]),
    }


def _run(speech: Speech, run: doc.Entry) -> str:
    return say("{element} in round {number}", element=speech.name(run["element"]), number=run["round"])
