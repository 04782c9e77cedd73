"""Messages about channels and the signals they stand on."""

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.cautions.grouped import grouped
from reports.wording.speech import Speech, listed, sentences

MOST_PAIRS = 4


def unknown(_speech: Speech, evidence: doc.Entry) -> str:
    """Channels without an RF channel."""
    channels = list(evidence["channels"])
    return say(
        "For {channels} no RF channel is known ({names}), so each counts as a signal of its own. Channels "
        "sent together are one signal, and would be counted too often: fill in rf_channel.",
        channels=numerals.number_of(len(channels), "channel", "channels"),
        names=listed(channels),
    )


def guessed(_speech: Speech, evidence: doc.Entry) -> str:
    """RF channels guessed from names like 27.1."""
    return say(
        "Which channels share a signal was guessed from their numbers: {groups}. A displayed number is not "
        "an RF channel number: check them, and fill in rf_channel.",
        groups=_groups(evidence["groups"]),
    )


def shared(_speech: Speech, evidence: doc.Entry) -> str:
    """Several channels on one RF channel."""
    return say(
        "{channels} channels stand on {signals} signals: {groups}. Channels of one signal rise and fall "
        "together, so they were averaged and count once. A total over channels counts such a signal several "
        "times.",
        channels=numerals.count(evidence["channels"]),
        signals=numerals.count(evidence["rf_channels"]),
        groups=_groups(evidence["groups"]),
    )


def one(_speech: Speech, evidence: doc.Entry) -> str:
    """Everything rests on one RF channel."""
    return say(
        "Everything rests on RF channel {rf_channel}. On another frequency the order may be another: scan "
        "more channels before you decide for all of them.",
        rf_channel=doc.clean(evidence["rf_channel"]),
    )


def depends(speech: Speech, evidence: doc.Entry) -> str:
    """A clear winner that other channels might not confirm."""
    pairs = [
        say(
            "{first} against {second} ({range})",
            first=speech.name(pair["first"]),
            second=speech.name(pair["second"]),
            range=speech.span(pair["low"], pair["high"]),
        )
        for pair in evidence["pairs"]
    ]
    return say(
        "On these channels the winner is clear. Asked whether it would hold on other rounds and other "
        "channels too, the answer still reaches from one side of zero to the other: {pairs}. It changes from "
        "signal to signal by more than chance: look at the channels that matter to you.",
        pairs=listed(pairs, most=MOST_PAIRS),
    )


def bands_disagree(speech: Speech, evidence: doc.Entry) -> str:
    """One band favours the one, another band the other."""
    return say(
        "{pairs}. Each band is taken by itself. Which is better then depends on the band: decide for the "
        "band that matters to you, or do a trial on that band alone.",
        pairs=listed([_opposed(speech, pair) for pair in evidence["pairs"]], most=MOST_PAIRS),
    )


def one_decides(speech: Speech, evidence: doc.Entry) -> str:
    """A difference in reception that a single RF channel makes."""
    counts = [
        say(
            "{element} {received} of {scanned}",
            element=speech.name(entry["element"]),
            received=entry["received_rounds"],
            scanned=entry["scanned_rounds"],
        )
        for entry in evidence["elements"]
        if entry["scanned_rounds"]
    ]
    return sentences(
        say(
            "What differs in reception comes from RF channel {rf_channel} alone (rounds received: {counts}).",
            rf_channel=doc.clean(evidence["rf_channel"]),
            counts=listed(counts),
        ),
        _without_it(evidence["p_value_without"]),
        say("It matters if you watch that signal; it does not show a difference in reception at large."),
    )


def _without_it(p: float | None) -> str:
    if p is None:
        return say("Without it nothing more than chance is left.")
    return say("Without it nothing more than chance is left (p = {p}).", p=numerals.probability(p))


def _opposed(speech: Speech, pair: doc.Entry) -> str:
    here, there = (_in_band(speech, band) for band in pair["bands"])
    return say(
        "{first} against {second}: {here}, {there}",
        first=speech.name(pair["first"]),
        second=speech.name(pair["second"]),
        here=here,
        there=there,
    )


def _in_band(speech: Speech, band: doc.Entry) -> str:
    placed = {
        "band": doc.clean(band["band"]),
        "amount": speech.amount(abs(band["difference"]), numerals.half_width(band["low"], band["high"])),
        "range": speech.span(band["low"], band["high"]),
    }
    if band["difference"] > 0:
        return say("in {band} it reads {amount} higher ({range})", **placed)
    return say("in {band} it reads {amount} lower ({range})", **placed)


def _groups(groups: list[doc.Entry]) -> str:
    return grouped(
        [
            say(
                "RF channel {rf_channel} carries {channels}",
                rf_channel=doc.clean(group["rf_channel"]),
                channels=listed(group["channels"]),
            )
            for group in groups
        ]
    )
