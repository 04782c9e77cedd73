"""How often the rule is wrong, as measured on simulated trials, in plain words."""

from reports import numerals
from reports.error_rates import ErrorRates, Kind, Range
from reports.wording.speech import Speech, listed

MOST_KINDS = 12
MEASURED_AT = 0.95


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
    return high if low == high else f"{low} to {high}"


def elements(kind: Kind) -> str:
    """The numbers that were tried: "2, 3, 4 and 8"."""
    return listed([str(number) for number in kind.elements], most=MOST_KINDS)


def held(kind: Kind, *, promised: bool) -> str:
    """Whether the rates of a kind of noise are within the promise."""
    if promised:
        return "yes" if kind.within else "no"
    return "none made; within" if kind.within else "none made; above"


def _tried(measured: ErrorRates) -> str:
    return (
        "The rule was tried on simulated trials in which the two best, or all, are equal, so that each call "
        f"between equals is a mistake: {numerals.count(measured.trials)} trials for each kind of noise and "
        "number compared. It was asked after every round from the third to the twelfth, with six planned and "
        f"a confidence of {numerals.per_cent(MEASURED_AT)}; one wrong call at any of these looks counts."
    )


def _promise(measured: ErrorRates) -> str:
    most = numerals.in_a_thousand(max(kind.promise for kind in measured.promised))
    return (
        f"The promise: of 1000 such trials at most {most} call some pair of equals different, and at most "
        f"{most} name a false winner."
    )


def _held(measured: ErrorRates) -> str:
    broken = [kind for kind in measured.promised if not kind.within]
    called = numerals.in_a_thousand(max(kind.called[1] for kind in measured.promised))
    named = numerals.in_a_thousand(max(kind.named[1] for kind in measured.promised))
    most = f"At worst {called} of 1000 called some pair of equals different, {named} named a false winner"
    if broken:
        return f"{most}. Measured beyond the promise, by more than chance: {_worst(broken)}."
    return (
        f"{most}: as far as chance in the simulation allows, the promise held with each of the "
        f"{numerals.count(len(measured.promised))} kinds of noise it is made for."
    )


def _beyond(measured: ErrorRates) -> str:
    broken = [kind for kind in measured.beyond if not kind.within]
    if not broken:
        return ""
    return (
        "It does not hold for every noise. No promise is made for these, and the rate is higher: "
        f"{_worst(broken)}. The checks for a noisy one, an odd run and a fixed order watch for such trials, "
        "but cannot see all of them."
    )


def _worst(kinds: list[Kind]) -> str:
    told = [
        f"{kind.noise} (up to {numerals.in_a_thousand(max(kind.called[1], kind.named[1]))} of 1000)"
        for kind in kinds
    ]
    return "; ".join(told)


def _here(speech: Speech) -> str:
    confidence = speech.trial["confidence"]
    if confidence == MEASURED_AT:
        return ""
    return (
        f"This trial was judged at a confidence of {numerals.per_cent(confidence)}: here "
        f"{numerals.in_a_thousand(1.0 - confidence)} of 1000 are allowed."
    )
