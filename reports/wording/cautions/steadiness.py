"""Messages about what moved during the trial: the site, one element, one run, one signal."""

from reports import document as doc
from reports import numerals
from reports.wording.cautions import measured
from reports.wording.speech import Speech, listed, sentences


def drift(speech: Speech, evidence: doc.Entry) -> str:
    """The level rose or fell over the trial."""
    element = evidence["element"]
    what = "The level of a whole round" if element is None else f"{speech.name(element)}, the reference,"
    moved = speech.amount(abs(evidence["over_trial"]), numerals.half_width(evidence["low"], evidence["high"]))
    return (
        f"{what} {_went(evidence['over_trial'])} by {moved} from the start of the trial to its end "
        f"({speech.between(evidence['low'], evidence['high'])}), more than the {speech.margin()} you would "
        "act on. Comparing within rounds takes most of that out, but not what moves while a round lasts: "
        "keep rounds short, draw a new order for each, and look for what changed (weather, a joint, a "
        "battery)."
    )


def reference_step(speech: Speech, evidence: doc.Entry) -> str:
    """The reference changed its level for good."""
    step = speech.amount(abs(evidence["step"]), evidence["sd"])
    return (
        f"{speech.name(evidence['element'])} is never touched, yet between rounds {evidence['last_before']} "
        f"and {evidence['first_after']} it {_went(evidence['step'])} by {step} and stayed there; its runs "
        f"otherwise vary by a standard deviation of {speech.measured(numerals.two_digits(evidence['sd']))}. "
        "Something at the site changed then (aim, cable, receiver, transmitter). Find it; if it changed "
        "within a round, repeat that round."
    )


def unequal_noise(speech: Speech, evidence: doc.Entry) -> str:
    """One element is noisier than the others."""
    name, limit = speech.name(evidence["element"]), numerals.plain(evidence["most_times"])
    beyond = evidence["times"] > evidence["most_times"]
    return sentences(
        f"{name} moves {numerals.plain(round(evidence['times'], 1))} times as much from round to round as "
        f"the others: a standard deviation of {speech.measured(numerals.two_digits(evidence['sd']))} against "
        f"{speech.measured(numerals.two_digits(evidence['others_sd']))}.",
        f"The error rate is promised up to {limit} times{', so its comparisons do not count yet' * beyond}.",
        (
            "Noise with a long tail to one side, in one of them three times as much, made the rule err in "
            f"{measured.LOPSIDED_OF_MORE} of 100 simulated trials, not {measured.PROMISED}."
        ),
        "Look for a loose joint or a mount that does not hold; mend it and repeat its runs.",
    )


def odd_run(speech: Speech, evidence: doc.Entry) -> str:
    """One run does not fit the others."""
    first = evidence["runs"][0]
    names = speech.names([run["element"] for run in evidence["runs"]], joined="or")
    way = "above" if evidence["deviation"] > 0 else "below"
    where = f"{way} what the other runs lead to expect"
    two = len(evidence["runs"]) > 1
    if two:
        where = "from where the other runs put it (two alone do not show which of them it was)"
    return sentences(
        f"The run of {names} in round {first['round']} lies "
        f"{speech.amount(abs(evidence['deviation']), evidence['sd'])} {where}; runs otherwise vary by a "
        f"standard deviation of {speech.measured(numerals.two_digits(evidence['sd']))}. Did a gust turn the "
        "mast, or was a joint loose? If you know that something happened, take the run out with that reason, "
        "or repeat it; never take it out for what it reads.",
        (
            "Of two alone nothing shows that one is noisier, with a long tail to one side; where that was so "
            f"the rule erred in {measured.LOPSIDED_OF_TWO} of 100 simulated trials, not "
            f"{measured.PROMISED}."
        )
        * two,
    )


def odd_channel_round(speech: Speech, evidence: doc.Entry) -> str:
    """One RF channel moved with every element at once."""
    own = [f"{speech.name(entry['element'])} {_signed(entry['move'])}" for entry in evidence["moves"]]
    return (
        f"In round {evidence['round']} RF channel {doc.clean(evidence['rf_channel'])} stood "
        f"{speech.amount(abs(evidence['move']), evidence['sd'])} "
        f"{'higher' if evidence['move'] > 0 else 'lower'} than usual with every {speech.things.one} "
        f"({listed(own)}): that is the transmitter or the path, not the {speech.things.many}. All share it, "
        "so the comparison stands; if it came or went within the round, repeat the round."
    )


def _went(change: float) -> str:
    return "rose" if change > 0 else "fell"


def _signed(change: float) -> str:
    return numerals.signed(change, abs(change))
