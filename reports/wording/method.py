"""The method in ten lines, with the names of the tests: for the reader who checks."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.speech import Speech, sentences

_LINES_OF_TWO = (
    marked(
        "Pair: exact sign-flip randomisation test of the mean round difference; interval from the means of "
        "the non-empty subsets of the round differences (Hartigan 1969)."
    ),
    marked("With two {elements} the pair is the trial: no adjustment for several comparisons is needed."),
)
_LINES_OF_MANY = (
    marked(
        "Pairs: round means are taken out by least squares; statistic = difference / standard error, whose "
        "variance is the larger of the pooled one and the pair's own; interval = difference ± critical value "
        "× standard error."
    ),
    marked(
        "Adjusted for all pairs together: the critical value is the larger of two, from residuals shuffled "
        "within rounds ({shuffled}) and from a bell-shaped reference ({bell}), in which one may be three "
        "times as noisy."
    ),
)
_LINES_OF_KNOWN = (
    marked(
        "Fewer than three rounds: the noise is a known repeatability, its standard deviation taken {times} "
        "times as large, at half the error rate."
    ),
    marked("Pairs by the studentised range (Tukey-Kramer), the leader by Student's t."),
)
_DESIGNS = {
    "rounds": marked("rounds"),
    "incomplete rounds": marked("incomplete rounds"),
    "one round, known noise": marked("one round, known noise"),
}
_CRITICAL = {
    "shuffled": marked("shuffled"),
    "bell_shaped": marked("bell-shaped"),
    "leader": marked("leader's"),
}


def lines(speech: Speech) -> list[str]:
    """Ten lines, in the order in which the work is done."""
    return [
        _unit(speech),
        say(
            "Score of a run: scans are averaged within a mounting, channels within their signal, then "
            "signals, then mountings."
        ),
        *_pairs(speech),
        _leader(speech),
        _looks(speech),
        say(
            "Resolution: the variance is never taken smaller than rounding to the meter's step makes it. "
            "Repeatability: of one mounting, also where a run is the mean of several."
        ),
        say(
            "Decisions stand: the outcome is that of the latest look that decided; differences and intervals "
            "are those of all rounds."
        ),
        *_beside(speech),
    ]


def _beside(speech: Speech) -> list[str]:
    """What is worked out besides, and how draws and rounding are done."""
    method = speech.document["method"]
    return [
        say(
            "Beside it, deciding nothing: signed-rank, sign test, Hodges-Lehmann, rank-biserial, Friedman, "
            "Cochran's Q, and a crossed bootstrap over rounds and signals ({resamples}).",
            resamples=_resamples(method["resamples"]),
        ),
        say(
            "Draws: Philox counters, seed {seed}; rounding at the very end, to the second digit of the "
            "uncertainty, half to even.",
            seed=method["seed"],
        ),
    ]


def _unit(speech: Speech) -> str:
    document = speech.document
    return say(
        "Unit of replication: the round. {elements} in the comparison, {rounds}, {signals}; design: "
        "{design}.",
        elements=speech.compared(len(document["elements"])),
        rounds=speech.rounds(speech.verdict["rounds_done"]),
        signals=numerals.number_of(len(doc.signals(document)), "signal", "signals"),
        design=say(_DESIGNS[document["method"]["design"]]),
    )


def _pairs(speech: Speech) -> list[str]:
    method = speech.document["method"]
    if doc.by_known_noise(speech.document):
        return [say(line, times=numerals.plain(1.25)) for line in _LINES_OF_KNOWN]
    if len(speech.document["elements"]) <= 2:
        return [say(line, elements=speech.things.many) for line in _LINES_OF_TWO]
    permutations = method["permutations"]
    shuffled = _tables(permutations) if method["enumerated"] and permutations else _draws(permutations)
    bell = _draws((method["draws"] or {}).get("bell_shaped"))
    return [say(line, shuffled=shuffled, bell=bell) for line in _LINES_OF_MANY]


def _leader(speech: Speech) -> str:
    found = speech.document["method"]["critical"] or {}
    values = [
        f"{say(_CRITICAL[key])} {numerals.fixed(found[key], 3)}"
        for key in _CRITICAL
        if found.get(key) is not None
    ]
    return sentences(
        say(
            "The leader against each other one is a question of its own, not charged for the other pairs "
            "(rank verification: Gutmann and Maymin 1987)."
        ),
        say("Critical values of this look: {values}.", values=", ".join(values)) if values else "",
    )


def _looks(speech: Speech) -> str:
    rate = numerals.in_a_hundred(1.0 - speech.trial["confidence"])
    if speech.trial["looks"] == "planned end":
        return say("Looks: one, at the planned end, with the whole error of {rate} in 100.", rate=rate)
    return say(
        "Looks after every round: the error spent up to a look is fixed beforehand, {rate} in 100 in all; "
        "four fifths of it up to the plan, the rest beyond.",
        rate=rate,
    )


def _tables(number: int) -> str:
    return say("{tables}, all of them", tables=numerals.number_of(number, "table", "tables"))


def _draws(number: int | None) -> str:
    return numerals.number_of(number, "draw", "draws") if number else say("no draws")


def _resamples(number: int | None) -> str:
    return numerals.number_of(number, "resample", "resamples") if number else say("no resamples")
