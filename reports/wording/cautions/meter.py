"""Messages about what the meter shows and how quiet it is."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed, sentences


def blanks(_speech: Speech, evidence: doc.Entry) -> str:
    """Blank cells of a wide table."""
    return (
        f"{numerals.count(evidence['count'])} of {numerals.count(evidence['of'])} cells are blank and were "
        "read as “scanned, nothing found”. If they were not scanned, write “not scanned” into them."
    )


def at_ceiling(_speech: Speech, evidence: doc.Entry) -> str:
    """Readings at the top of the scale."""
    return _at_end(evidence, end="top", remedy="put an attenuator in line, the same one for every run")


def at_floor(_speech: Speech, evidence: doc.Entry) -> str:
    """Readings at the bottom of the scale."""
    return _at_end(evidence, end="bottom", remedy="raise the level, or choose stronger channels")


def unitless_total(_speech: Speech, evidence: doc.Entry) -> str:
    """A total of bars or per cent."""
    scale = "bars" if evidence["unit"] == "bars" else "per cent of a scale"
    return (
        f"A total of {scale} is a sum of scale steps. It ranks, but 10 per cent more total is not 10 per "
        "cent more signal, and it says nothing in decibels, of gain or of efficiency. Compare differences, "
        "not shares."
    )


def coarse(speech: Speech, evidence: doc.Entry) -> str:
    """Most paired differences are ties."""
    step = evidence["resolution"]
    size = f" (one step is {speech.measured(numerals.plain(step))})" if step else ""
    return (
        f"In {numerals.count(evidence['ties'])} of {numerals.count(evidence['of'])} paired readings "
        f"({numerals.per_cent(evidence['share'])}) two {speech.things.many} show the very same value: the "
        f"steps of the meter are wide against what is to be told apart{size}. Small differences stay hidden. "
        "More RF channels help, or a meter with finer steps, or an attenuator that brings the weak channels "
        "to where they change."
    )


def identical_runs(speech: Speech, evidence: doc.Entry) -> str:
    """Runs equal in every cell."""
    pairs = [
        f"{_run(speech, pair['first'])} and {_run(speech, pair['second'])}" for pair in evidence["pairs"]
    ]
    return (
        f"Equal in every reading: {listed(pairs, most=4)}. Two honest runs seldom are: check for a column "
        f"copied twice, or a run without a fresh start. If so, {speech.things.afresh} and scan again."
    )


def margin_below(speech: Speech, evidence: doc.Entry) -> str:
    """The margin is too fine for “within noise” to be reachable."""
    useful = numerals.two_digits(evidence["smallest_useful_margin"])
    return (
        f"You would act on {speech.amount(evidence['margin'])}, but one run differs from the next by a "
        f"standard deviation of {speech.measured(numerals.two_digits(evidence['sd']))} already. “Within "
        f"noise” is out of reach: a margin of {speech.measured(useful)} or more could be reached. Fix it "
        "before the next trial, not after this one."
    )


def known_repeatability(speech: Speech, evidence: doc.Entry) -> str:
    """A verdict from fewer than three rounds and a known repeatability."""
    source, here = doc.clean(evidence["from"] or ""), evidence["source"] == "this trial"
    cited = f" ({source})" if source and not here else ""
    taken = {
        "known": "was taken from elsewhere",
        "this trial": f"comes from how far readings moved when {speech.things.repeated}, within a round",
        "both": "was taken from elsewhere and from this trial together",
    }[evidence["source"]]
    return sentences(
        f"The verdict rests on {speech.rounds(evidence['rounds'])} only. The noise behind it {taken}: a "
        f"standard deviation of {speech.measured(numerals.two_digits(evidence['sd']))} with "
        f"{numerals.plain(evidence['degrees_of_freedom'])} degrees of freedom{cited}, made a quarter larger.",
        "Where the site was less quiet than that, the verdict is worth less. More rounds free it from that.",
    )


def _at_end(evidence: doc.Entry, *, end: str, remedy: str) -> str:
    stuck = list(evidence["rf_channels"])
    dumb = f"On RF channel {listed(stuck)} every run does, so nothing can be told there." if stuck else ""
    return sentences(
        f"{numerals.count(evidence['readings'])} of {numerals.count(evidence['of'])} readings "
        f"({numerals.per_cent(evidence['share'])}) stand at the {end} of the scale, where differences "
        "vanish.",
        dumb,
        f"To see them, {remedy}.",
    )


def _run(speech: Speech, run: doc.Entry) -> str:
    return f"{speech.name(run['element'])} in round {run['round']}"
