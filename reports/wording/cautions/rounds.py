"""Messages about rounds, plans and runs taken out."""

from itertools import groupby

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, listed, sentences

MOST_ROUNDS = 6
_TOLD_BY = {
    "mountings": "the order of their mountings",
    "times": "their times",
    "order of rows": "the order of the rows, for want of anything better",
    "round column": "the round column",
}


def one_round(speech: Speech, evidence: doc.Entry) -> str:
    """Only one round was done."""
    things, fewest = speech.things, evidence["fewest_rounds"]
    need = f"Do {speech.rounds(fewest)} at least" if fewest else "Do more rounds"
    return (
        f"Every {things.one} was {things.done} once, so nothing shows how far a reading moves when "
        f"{things.repeated}. No difference can be told from that. {need}, and {things.afresh} in every "
        "round."
    )


def few_rounds(speech: Speech, evidence: doc.Entry) -> str:
    """Two or more rounds, but fewer than planned or than any verdict needs."""
    done, planned, fewest = evidence["rounds_done"], evidence["planned_rounds"], evidence["fewest_rounds"]
    early = f"The rule cannot decide anything before round {fewest}." if fewest and done < fewest else ""
    return sentences(
        f"{numerals.count(done)} of {speech.rounds(planned)} planned {'is' if done == 1 else 'are'} done.",
        early,
        "What is not settled yet may still turn round: finish the plan.",
    )


def one_mounting(speech: Speech, evidence: doc.Entry) -> str:
    """Many scans of one mounting."""
    names, things = list(evidence["elements"]), speech.things
    return (
        f"There are {numerals.count(evidence['scans'])} scans, but {speech.names(names)} "
        f"{'was' if len(names) == 1 else 'were'} {things.done} only once. Scans repeated without that "
        f"repeat its luck as well and count as one trial: {things.afresh} for every round."
    )


def rounds_inferred(_speech: Speech, evidence: doc.Entry) -> str:
    """No round column."""
    return (
        f"The readings name no round. Which runs belong together was told by {_TOLD_BY[evidence['from']]}: "
        "the n-th mounting of each is round n. If that is wrong, so is the comparison: add a column “round”."
    )


def incomplete_rounds(speech: Speech, evidence: doc.Entry) -> str:
    """Some runs are missing from some rounds."""
    missing = runs_by_element(speech, evidence["missing"])
    left = list(evidence["not_judged"])
    out = f"Too few runs for a judgement: {speech.names(left)}." if left else ""
    return sentences(
        (
            f"Runs are missing: {missing}. Each pair is compared over the rounds that hold both, with less "
            "to go by."
        ),
        out,
        "Make up the missing runs if you can, each in a round of its own with the others.",
    )


def far_apart(speech: Speech, evidence: doc.Entry) -> str:
    """Rounds that took hours from their first run to their last."""
    rounds = evidence["rounds"]
    longest = max(rounds, key=lambda entry: entry["hours"])
    named = listed([entry["round"] for entry in rounds], most=MOST_ROUNDS)
    return (
        f"In {'round' if len(rounds) == 1 else 'rounds'} {named} the runs lie up to "
        f"{numerals.duration(longest['hours']).removeprefix('about ')} apart (round {longest['round']}). A "
        f"round compares the {speech.things.many} only as far as the site stays the same from its first run "
        f"to its last: do each round in one go, within {numerals.duration(evidence['allowed_hours'])}."
    )


def order_fixed(speech: Speech, evidence: doc.Entry) -> str:
    """The order of the runs was much the same in every round."""
    always = [
        f"{speech.name(entry['element'])} always came in place {entry['place']}"
        for entry in evidence["always"]
    ]
    p = evidence["p_value"]
    chance = f"p = {numerals.probability(p)}" if p is not None else ""
    alike = (
        "" if always else f"The order was much the same in every round; chance alone does that with {chance}."
    )
    told = "" if evidence["order_from"] == "times" else "The order was read from the rows."
    return sentences(
        f"{listed(always, most=MOST_ROUNDS)}." if always else "",
        alike,
        told,
        f"Whatever changes within a round (warmth, the receiver, the weather) then falls on the same "
        f"{speech.things.one} each time and looks like a difference. Draw a new order for every round.",
    )


def plan_not_stated(_speech: Speech, evidence: doc.Entry) -> str:
    """More rounds than the plan that was assumed."""
    return (
        f"No number of rounds was stated, so {evidence['planned_rounds']} was taken as the plan, and there "
        f"are {evidence['rounds_done']}. The error rate holds only if the number was fixed before the first "
        "run: next time, state planned_rounds beforehand."
    )


def unplanned_looks(speech: Speech, evidence: doc.Entry) -> str:
    """Rounds beyond a plan that was to be looked at once, at its end."""
    promise = numerals.in_a_hundred(evidence["promise"])
    stated = numerals.in_a_hundred(1.0 - speech.trial["confidence"])
    return (
        f"The plan was one look after {speech.rounds(evidence['planned_rounds'])}; there are "
        f"{evidence['rounds_done']} and each further one was a look. The rule now errs in at most {promise} "
        f"of 100 such trials, not {stated}. If you mean to look on the way, say so in the plan (looks: "
        "every round)."
    )


def runs_struck(speech: Speech, evidence: doc.Entry) -> str:
    """Runs taken out openly."""
    runs = [
        (
            f"{speech.name(run['element'])} in round {run['round']} "
            f"({doc.clean(run['reason']) or 'no reason given'})"
        )
        for run in evidence["runs"]
    ]
    return (
        f"Taken out by whoever ran the trial: {listed(runs)}. A run may be taken out for what happened at "
        "the mast, never for what it reads; the result with these runs left in is given beside this one."
    )


def hangs_on_strike(speech: Speech, evidence: doc.Entry) -> str:
    """The outcome with and without the strikes differs."""
    return (
        f"With the runs taken out the outcome is {_outcome(speech, evidence['with'])}; with them left in it "
        f"is {_outcome(speech, evidence['without'])}. A verdict that hangs on what was taken out is weak: "
        "repeat those runs."
    )


def runs_by_element(speech: Speech, runs: list[doc.Entry]) -> str:
    """Runs as words, gathered by element: "brass in rounds 2 and 5, bronze in round 3"."""
    ordered = sorted(runs, key=lambda run: list(speech.labels).index(run["element"]))
    return listed(
        [
            _of_one(speech, element, list(group))
            for element, group in groupby(ordered, lambda run: run["element"])
        ]
    )


def _of_one(speech: Speech, element: str, runs: list[doc.Entry]) -> str:
    numbers = sorted(run["round"] for run in runs)
    return f"{speech.name(element)} in {'round' if len(numbers) == 1 else 'rounds'} {listed(numbers)}"


def _outcome(speech: Speech, result: doc.Entry) -> str:
    winner = result["winner"]
    return f"“{result['outcome']}”" + (f" ({speech.name(winner)})" if winner else "")
