"""How often the rule is wrong, as measured on simulated trials, in plain words."""

from reports import numerals
from reports.error_rates import ErrorRates, Kind, Range
from reports.language import marked, say
from reports.wording.speech import Speech, listed

MOST_KINDS = 12
MEASURED_AT = 0.95
NOISES = frozenset(
    {
        marked("normal"),
        marked("heavy-tailed"),
        marked("skewed"),
        marked("outliers"),
        marked("coarse meter"),
        marked("one twice as noisy"),
        marked("one three times as noisy"),
        marked("one five times as noisy"),
        marked("skewed and one twice as noisy"),
        marked("skewed and one three times as noisy"),
        marked("skewed and one five times as noisy"),
        marked("drift of 0.1 sd a place, fixed order"),
        marked("drift of 0.1 sd a place, random order"),
        marked("drift of 0.25 sd a place, fixed order"),
        marked("drift of 0.25 sd a place, random order"),
        marked("drift of 0.5 sd a place, fixed order"),
        marked("drift of 0.5 sd a place, random order"),
        marked("one three times as noisy, in every second round"),
        marked("one equally noisy, in every second round"),
        marked("one three times as noisy, most others in every second round"),
        marked("normal, struck at random"),
        marked("normal, struck the worst"),
        marked("normal, struck for the outcome"),
    }
)
"""The kinds of noise as the study names them; `say`d where they are shown."""


def sentences(speech: Speech, measured: ErrorRates) -> list[str]:
    """What was tried, what is promised, whether it held, and where it does not."""
    return [sentence for sentence in (*of_rule(measured), _here(speech)) if sentence]


def of_rule(measured: ErrorRates) -> list[str]:
    """The same of the rule alone, without any trial."""
    found = [_tried(measured), _promise(measured), _held(measured), _beyond(measured)]
    return [sentence for sentence in found if sentence]


def of_a_thousand(shares: Range) -> str:
    """The fewest and the most of a thousand trials: "4 to 21"."""
    low, high = (numerals.in_a_thousand(share) for share in shares)
    return high if low == high else say("{low} to {high}", low=low, high=high)


def noise(kind: Kind) -> str:
    """What a kind of noise is called."""
    return say(kind.noise)


def elements(kind: Kind) -> str:
    """The numbers that were tried: "2, 3, 4 and 8"."""
    return listed([str(number) for number in kind.elements], most=MOST_KINDS)


def held(kind: Kind, *, promised: bool) -> str:
    """Whether the rates of a kind of noise are within the promise."""
    if promised:
        return say("yes") if kind.within else say("no")
    return say("none made; within") if kind.within else say("none made; above")


def _tried(measured: ErrorRates) -> str:
    return say(
        "The rule was tried on simulated trials in which the two best, or all, are equal, so that each call "
        "between equals is a mistake: {trials} trials for each kind of noise and number compared. It was "
        "asked after every round from the third to the twelfth, with six planned and a confidence of "
        "{confidence}; one wrong call at any of these looks counts.",
        trials=numerals.count(measured.trials),
        confidence=numerals.per_cent(MEASURED_AT),
    )


def _promise(measured: ErrorRates) -> str:
    return say(
        "The promise: of 1000 such trials at most {most} call some pair of equals different, and at most "
        "{most} name a false winner.",
        most=numerals.in_a_thousand(max(kind.promise for kind in measured.promised)),
    )


def _held(measured: ErrorRates) -> str:
    broken = [kind for kind in measured.promised if not kind.within]
    called = numerals.in_a_thousand(max(kind.called[1] for kind in measured.promised))
    named = numerals.in_a_thousand(max(kind.named[1] for kind in measured.promised))
    if broken:
        return say(
            "At worst {called} of 1000 called some pair of equals different, {named} named a false winner. "
            "Measured beyond the promise, by more than chance: {noises}.",
            called=called,
            named=named,
            noises=_worst(broken),
        )
    return say(
        "At worst {called} of 1000 called some pair of equals different, {named} named a false winner: as "
        "far as chance in the simulation allows, the promise held with each of the {number} kinds of noise "
        "it is made for.",
        called=called,
        named=named,
        number=numerals.count(len(measured.promised)),
    )


def _beyond(measured: ErrorRates) -> str:
    broken = [kind for kind in measured.beyond if not kind.within]
    if not broken:
        return ""
    return say(
        "It does not hold for every noise. No promise is made for these, and the rate is higher: {noises}. "
        "The checks for a noisy one, an odd run and a fixed order watch for such trials, but cannot see all "
        "of them.",
        noises=_worst(broken),
    )


def _worst(kinds: list[Kind]) -> str:
    told = [
        say(
            "{noise} (up to {number} of 1000)",
            noise=noise(kind),
            number=numerals.in_a_thousand(max(kind.called[1], kind.named[1])),
        )
        for kind in kinds
    ]
    return "; ".join(told)


def _here(speech: Speech) -> str:
    confidence = speech.trial["confidence"]
    if confidence == MEASURED_AT:
        return ""
    return say(
        "This trial was judged at a confidence of {confidence}: here {number} of 1000 are allowed.",
        confidence=numerals.per_cent(confidence),
        number=numerals.in_a_thousand(1.0 - confidence),
    )
