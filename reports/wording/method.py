"""The method in ten lines, with the names of the tests: for the reader who checks."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech

_LINES_OF_TWO = (
    "Pair: exact sign-flip randomisation test of the mean round difference; interval from the means of the "
    "non-empty subsets of the round differences (Hartigan 1969).",
    "With two {many} the pair is the trial: no adjustment for several comparisons is needed.",
)
_LINES_OF_MANY = (
    "Pairs: round means are taken out by least squares; statistic = difference / standard error, whose "
    "variance is the larger of the pooled one and the pair's own; interval = difference ± critical value × "
    "standard error.",
    "Adjusted for all pairs together: the critical value is the larger of two, from residuals shuffled "
    "within rounds ({shuffled}) and from a bell-shaped reference ({bell}), in which one may be three times "
    "as noisy.",
)
_LINES_OF_KNOWN = (
    "Fewer than three rounds: the noise is a known repeatability, its standard deviation taken {times} times "
    "as large, at half the error rate.",
    "Pairs by the studentised range (Tukey-Kramer), the leader by Student's t.",
)


def lines(speech: Speech) -> list[str]:
    """Ten lines, in the order in which the work is done."""
    method = speech.document["method"]
    return [
        _unit(speech),
        "Score of a run: scans are averaged within a mounting, channels within their signal, then signals, "
        "then mountings.",
        *_pairs(speech),
        _leader(speech),
        _looks(speech),
        "Resolution: the variance is never taken smaller than rounding to the meter's step makes it. "
        "Repeatability: of one mounting, also where a run is the mean of several.",
        "Decisions stand: the outcome is that of the latest look that decided; differences and intervals "
        "are those of all rounds.",
        "Beside it, deciding nothing: signed-rank, sign test, Hodges-Lehmann, rank-biserial, Friedman, "
        f"Cochran's Q, and a crossed bootstrap over rounds and signals ({_times(method['resamples'])} "
        "resamples).",
        f"Draws: Philox counters, seed {method['seed']}; rounding at the very end, to the second digit of "
        "the uncertainty, half to even.",
    ]


def _unit(speech: Speech) -> str:
    document = speech.document
    return (
        f"Unit of replication: the round. {speech.compared(len(document['elements']))} in the comparison, "
        f"{speech.rounds(speech.verdict['rounds_done'])}, "
        f"{numerals.number_of(len(doc.signals(document)), 'signal', 'signals')}; design: "
        f"{document['method']['design']}."
    )


def _pairs(speech: Speech) -> list[str]:
    method = speech.document["method"]
    if method["design"] == "one round, known noise":
        return [line.format(times=numerals.plain(1.25)) for line in _LINES_OF_KNOWN]
    if len(speech.document["elements"]) <= 2:
        return [line.format(many=speech.things.many) for line in _LINES_OF_TWO]
    shuffled = (
        f"{_times(method['permutations'])} {'tables, all of them' if method['enumerated'] else 'draws'}"
    )
    bell = f"{_times((method['draws'] or {}).get('bell_shaped'))} draws"
    return [line.format(shuffled=shuffled, bell=bell) for line in _LINES_OF_MANY]


def _leader(speech: Speech) -> str:
    found = speech.document["method"]["critical"] or {}
    words = {"shuffled": "shuffled", "bell_shaped": "bell-shaped", "leader": "leader's"}
    values = [f"{words[key]} {numerals.fixed(found[key], 3)}" for key in words if found.get(key) is not None]
    shown = f" Critical values of this look: {', '.join(values)}." if values else ""
    return (
        "The leader against each other one is a question of its own, not charged for the other pairs (rank "
        f"verification: Gutmann and Maymin 1987).{shown}"
    )


def _looks(speech: Speech) -> str:
    rate = numerals.in_a_hundred(1.0 - speech.trial["confidence"])
    if speech.trial["looks"] == "planned end":
        return f"Looks: one, at the planned end, with the whole error of {rate} in 100."
    return (
        f"Looks after every round: the error spent up to a look is fixed beforehand, {rate} in 100 in all; "
        "four fifths of it up to the plan, the rest beyond."
    )


def _times(number: int | None) -> str:
    return "no" if not number else numerals.count(number)
