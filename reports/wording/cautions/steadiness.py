"""Messages about what moved during the trial: the site, one element, one signal."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.cautions import measured
from reports.wording.speech import Speech, listed, sentences

_REFERENCE_ROSE: Final = marked(
    "{element}, the reference, rose by {amount} from the start of the trial to its end ({range}), more than "
    "the {margin} you would act on."
)
_REFERENCE_FELL: Final = marked(
    "{element}, the reference, fell by {amount} from the start of the trial to its end ({range}), more than "
    "the {margin} you would act on."
)
_ALL_ROSE: Final = marked(
    "The level of a whole round rose by {amount} from the start of the trial to its end ({range}), more than "
    "the {margin} you would act on."
)
_ALL_FELL: Final = marked(
    "The level of a whole round fell by {amount} from the start of the trial to its end ({range}), more than "
    "the {margin} you would act on."
)
_STEPPED_UP: Final = marked(
    "{element} is never touched, yet between rounds {before} and {after} it rose by {step} and stayed there; "
    "its runs otherwise vary by a standard deviation of {sd}."
)
_STEPPED_DOWN: Final = marked(
    "{element} is never touched, yet between rounds {before} and {after} it fell by {step} and stayed there; "
    "its runs otherwise vary by a standard deviation of {sd}."
)
_CHANNEL_HIGHER: Final = marked(
    "In round {round} RF channel {rf_channel} stood {amount} higher than usual with every {thing} ({moves}): "
    "that is the transmitter or the path, not the {things}."
)
_CHANNEL_LOWER: Final = marked(
    "In round {round} RF channel {rf_channel} stood {amount} lower than usual with every {thing} ({moves}): "
    "that is the transmitter or the path, not the {things}."
)


def drift(speech: Speech, evidence: doc.Entry) -> str:
    """The level rose or fell over the trial."""
    element, moved = evidence["element"], evidence["over_trial"]
    rose, fell = (_ALL_ROSE, _ALL_FELL) if element is None else (_REFERENCE_ROSE, _REFERENCE_FELL)
    return sentences(
        say(
            rose if moved > 0 else fell,
            element="" if element is None else speech.name(element),
            amount=speech.amount(abs(moved), numerals.half_width(evidence["low"], evidence["high"])),
            range=speech.between(evidence["low"], evidence["high"]),
            margin=speech.margin(),
        ),
        say(
            "Comparing within rounds takes most of that out, but not what moves while a round lasts: keep "
            "rounds short, draw a new order for each, and look for what changed (weather, a joint, a "
            "battery)."
        ),
    )


def reference_step(speech: Speech, evidence: doc.Entry) -> str:
    """The reference changed its level for good."""
    return sentences(
        say(
            _STEPPED_UP if evidence["step"] > 0 else _STEPPED_DOWN,
            element=speech.name(evidence["element"]),
            before=evidence["last_before"],
            after=evidence["first_after"],
            step=speech.amount(abs(evidence["step"]), evidence["sd"]),
            sd=speech.measured(numerals.two_digits(evidence["sd"])),
        ),
        say(
            "Something at the site changed then (aim, cable, receiver, transmitter). Find it; if it changed "
            "within a round, repeat that round."
        ),
    )


def unequal_noise(speech: Speech, evidence: doc.Entry) -> str:
    """One element is noisier than the others."""
    return sentences(
        say(
            "{element} moves {times} times as much from round to round as the others: a standard deviation "
            "of {sd} against {sd_of_others}.",
            element=speech.name(evidence["element"]),
            times=numerals.plain(round(evidence["times"], 1)),
            sd=speech.measured(numerals.two_digits(evidence["sd"])),
            sd_of_others=speech.measured(numerals.two_digits(evidence["others_sd"])),
        ),
        _promised_up_to(evidence),
        say(
            "Noise with a long tail to one side, in one of them three times as much, made the rule err in "
            "{erred} of 100 simulated trials, not {promised}.",
            erred=measured.LOPSIDED_OF_MORE,
            promised=measured.PROMISED,
        ),
        say("Look for a loose joint or a mount that does not hold; mend it and repeat its runs."),
    )


def _promised_up_to(evidence: doc.Entry) -> str:
    limit = numerals.plain(evidence["most_times"])
    if evidence["times"] > evidence["most_times"]:
        return say(
            "The error rate is promised up to {limit} times, so its comparisons do not count yet.",
            limit=limit,
        )
    return say("The error rate is promised up to {limit} times.", limit=limit)


def odd_channel_round(speech: Speech, evidence: doc.Entry) -> str:
    """One RF channel moved with every element at once."""
    own = [f"{speech.name(entry['element'])} {_signed(entry['move'])}" for entry in evidence["moves"]]
    return sentences(
        say(
            _CHANNEL_HIGHER if evidence["move"] > 0 else _CHANNEL_LOWER,
            round=evidence["round"],
            rf_channel=doc.clean(evidence["rf_channel"]),
            amount=speech.amount(abs(evidence["move"]), evidence["sd"]),
            thing=speech.things.one,
            things=speech.things.many,
            moves=listed(own),
        ),
        say("All share it, so the comparison stands; if it came or went within the round, repeat the round."),
    )


def _signed(change: float) -> str:
    return numerals.signed(change, abs(change))
