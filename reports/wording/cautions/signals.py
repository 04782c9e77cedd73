"""Messages about channels and the signals they stand on."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed

MOST_GROUPS = 4


def unknown(_speech: Speech, evidence: doc.Entry) -> str:
    """Channels without an RF channel."""
    channels = list(evidence["channels"])
    return (
        f"For {numerals.number_of(len(channels), 'channel', 'channels')} no RF channel is known "
        f"({listed(channels)}), so each counts as a signal of its own. Channels sent together are one "
        "signal, and would be counted too often: fill in rf_channel."
    )


def guessed(_speech: Speech, evidence: doc.Entry) -> str:
    """RF channels guessed from names like 27.1."""
    return (
        f"Which channels share a signal was guessed from their numbers: {_groups(evidence['groups'])}. A "
        "displayed number is not an RF channel number: check them, and fill in rf_channel."
    )


def shared(_speech: Speech, evidence: doc.Entry) -> str:
    """Several channels on one RF channel."""
    return (
        f"{numerals.count(evidence['channels'])} channels stand on "
        f"{numerals.count(evidence['rf_channels'])} signals: {_groups(evidence['groups'])}. Channels of one "
        "signal rise and fall together, so they were averaged and count once. A total over channels counts "
        "such a signal several times."
    )


def one(_speech: Speech, evidence: doc.Entry) -> str:
    """Everything rests on one RF channel."""
    return (
        f"Everything rests on RF channel {doc.clean(evidence['rf_channel'])}. On another frequency the "
        "order may be another: scan more channels before you decide for all of them."
    )


def depends(speech: Speech, evidence: doc.Entry) -> str:
    """A clear winner that other channels might not confirm."""
    pairs = [
        (
            f"{speech.name(pair['first'])} against {speech.name(pair['second'])} "
            f"({speech.span(pair['low'], pair['high'])})"
        )
        for pair in evidence["pairs"]
    ]
    return (
        "On these channels the winner is clear. Asked whether it would hold on other rounds and other "
        "channels too, the answer still reaches from one side of zero to the other: "
        f"{listed(pairs, most=MOST_GROUPS)}. It changes from signal to signal by more than chance: look at "
        "the channels that matter to you."
    )


def bands_disagree(speech: Speech, evidence: doc.Entry) -> str:
    """One band favours the one, another band the other."""
    pairs = [_opposed(speech, pair) for pair in evidence["pairs"]]
    return (
        f"{listed(pairs, most=MOST_GROUPS)}. Each band is taken by itself. Which is better "
        "then depends on the band: decide for the band that matters to you, or do a trial on that "
        "band alone."
    )


def one_decides(speech: Speech, evidence: doc.Entry) -> str:
    """A difference in reception that a single RF channel makes."""
    counts = [
        f"{speech.name(entry['element'])} {entry['received_rounds']} of {entry['scanned_rounds']}"
        for entry in evidence["elements"]
        if entry["scanned_rounds"]
    ]
    without = evidence["p_value_without"]
    rest = f" (p = {numerals.probability(without)})" if without is not None else ""
    return (
        f"What differs in reception comes from RF channel {doc.clean(evidence['rf_channel'])} alone (rounds "
        f"received: {listed(counts)}). Without it nothing more than chance is left{rest}. It matters if you "
        "watch that signal; it does not show a difference in reception at large."
    )


def _opposed(speech: Speech, pair: doc.Entry) -> str:
    here, there = (_in_band(speech, band) for band in pair["bands"])
    return f"{speech.name(pair['first'])} against {speech.name(pair['second'])}: {here}, {there}"


def _in_band(speech: Speech, band: doc.Entry) -> str:
    amount = speech.amount(abs(band["difference"]), numerals.half_width(band["low"], band["high"]))
    way = "higher" if band["difference"] > 0 else "lower"
    return f"in {doc.clean(band['band'])} it reads {amount} {way} ({speech.span(band['low'], band['high'])})"


def _groups(groups: list[doc.Entry]) -> str:
    named = [
        f"RF channel {doc.clean(group['rf_channel'])} carries {listed(group['channels'])}" for group in groups
    ]
    shown = named[:MOST_GROUPS]
    rest = f"; and {numerals.count(len(named) - MOST_GROUPS)} more" if len(named) > MOST_GROUPS else ""
    return "; ".join(shown) + rest
