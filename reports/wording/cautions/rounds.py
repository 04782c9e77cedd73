"""Messages about rounds, plans and runs taken out."""

from itertools import groupby

from reports import document as doc
from reports import numerals
from reports.wording.cautions import measured
from reports.wording.speech import Speech, listed, sentences

MOST_ROUNDS = 6
MOST_GROUPS = 4
_TOLD_BY = {
    "mountings": "the order of their mountings",
    "times": "their times",
    "order of rows": "the order of the rows, for want of anything better",
    "round column": "the round column",
}


def one_round(speech: Speech, evidence: doc.Entry) -> str:
    """Only one round was done."""
    things, fewest = speech.things, evidence["fewest_rounds"]
    if evidence["known_noise"]:
        return (
            "There is one round. It is judged by a noise known beforehand, not by its own: how far readings "
            f"move from one round to the next it does not show. More rounds do; {things.afresh} in each."
        )
    need = f"Do {speech.rounds(fewest)} at least" if fewest else "Do more rounds"
    return (
        f"{_untold(speech, evidence)} No difference can be told from that. {need}, and {things.afresh} in "
        + ("every round.")
    )


def _untold(speech: Speech, evidence: doc.Entry) -> str:
    things = speech.things
    if evidence["most_mountings"] > 1:
        return (
            f"All runs stand in one round, and what was {things.done} again within it is too little to show "
            f"how far a reading moves when {things.repeated}."
        )
    return (
        f"Every {things.one} was {things.done} once, so nothing shows how far a reading moves when "
        f"{things.repeated}."
    )


def few_rounds(speech: Speech, evidence: doc.Entry) -> str:
    """Two or more rounds, but fewer than planned or than any verdict needs."""
    done, planned, fewest = evidence["rounds_done"], evidence["planned_rounds"], evidence["fewest_rounds"]
    early = ""
    if evidence["known_noise"]:
        early = "They are judged by a noise known beforehand, not by their own."
    elif fewest and done < fewest:
        early = f"With fewer than {speech.rounds(fewest)} the rule cannot decide anything."
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
        (
            f"Where one {speech.things.one} was three times as noisy as the others and had half as many "
            f"runs, the rule erred in {measured.NOISY_WITH_FEWER_RUNS} of 100 simulated trials, not "
            f"{measured.PROMISED}."
        ),
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


def not_connected(speech: Speech, evidence: doc.Entry) -> str:
    """Groups of elements that share no round with one another."""
    groups = [speech.names(group) for group in evidence["groups"][:MOST_GROUPS]]
    more = len(evidence["groups"]) - len(groups)
    rest = f"; and {numerals.count(more)} more" if more else ""
    return (
        f"No chain of shared rounds joins these groups: {'; '.join(groups)}{rest}. Between two of them a "
        "difference may be that of the day as well, so it is not judged. Do rounds that hold "
        f"{speech.things.many} of every group."
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
        (
            "In simulated trials that drifted by half the run-to-run spread from one place to the next, a "
            f"fixed order made the rule err in {measured.FIXED_ORDER_OF_TWO} of 100 trials of two and in "
            f"{measured.FIXED_ORDER_OF_FOUR} of four; with random orders it kept to the {measured.PROMISED} "
            "promised."
        ),
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
        "the mast, never for what it reads: where the run furthest off was taken out of simulated trials, "
        f"the rule erred in {measured.FURTHEST_STRUCK_OF_TWO} of 100 trials of two and in "
        f"{measured.FURTHEST_STRUCK_OF_FOUR} of four, not {measured.PROMISED}. The result with these runs "
        "left in is given beside this one."
    )


def hangs_on_strike(speech: Speech, evidence: doc.Entry) -> str:
    """The outcome with and without the strikes differs."""
    return (
        f"With the runs taken out the outcome is {_outcome(speech, evidence['with'])}; with them left in it "
        f"is {_outcome(speech, evidence['without'])}. A verdict that hangs on what was taken out is weak: "
        "where one run was taken out because that changed the answer, the rule erred in "
        f"{measured.STRUCK_TO_SUIT_OF_TWO} of 100 simulated trials of two and in "
        f"{measured.STRUCK_TO_SUIT_OF_FOUR} of four, not {measured.PROMISED}. Repeat those runs."
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
