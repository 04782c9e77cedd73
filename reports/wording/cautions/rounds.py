"""Messages about rounds and plans."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_number
from reports.wording.cautions import measured
from reports.wording.cautions.grouped import grouped, runs_by_element
from reports.wording.speech import Speech, listed, sentences

MOST_ROUNDS = 6
_TOLD_BY: Final = {
    "mountings": marked("the order of their mountings"),
    "times": marked("their times"),
    "order of rows": marked("the order of the rows, for want of anything better"),
    "round column": marked("the round column"),
}


def one_round(speech: Speech, evidence: doc.Entry) -> str:
    """Only one round was done."""
    afresh, fewest = speech.things.afresh, evidence["fewest_rounds"]
    if evidence["known_noise"]:
        return say(
            "There is one round. It is judged by a noise known beforehand, not by its own: how far readings "
            "move from one round to the next it does not show. More rounds do; {afresh} in each.",
            afresh=afresh,
        )
    return sentences(
        _untold(speech, evidence),
        say("No difference can be told from that."),
        say("Do {rounds} at least, and {afresh} in every round.", rounds=speech.rounds(fewest), afresh=afresh)
        if fewest
        else say("Do more rounds, and {afresh} in every round.", afresh=afresh),
    )


def _untold(speech: Speech, evidence: doc.Entry) -> str:
    things = speech.things
    placed = {"thing": things.one, "done": things.done, "repeated": things.repeated}
    if evidence["most_mountings"] > 1:
        return say(
            "All runs stand in one round, and what was {done} again within it is too little to show how far "
            "a reading moves when {repeated}.",
            **placed,
        )
    return say(
        "Every {thing} was {done} once, so nothing shows how far a reading moves when {repeated}.", **placed
    )


def few_rounds(speech: Speech, evidence: doc.Entry) -> str:
    """Two or more rounds, but fewer than planned or than any verdict needs."""
    done, planned, fewest = evidence["rounds_done"], evidence["planned_rounds"], evidence["fewest_rounds"]
    early = ""
    if evidence["known_noise"]:
        early = say("They are judged by a noise known beforehand, not by their own.")
    elif fewest and done < fewest:
        early = say("With fewer than {rounds} the rule cannot decide anything.", rounds=speech.rounds(fewest))
    return sentences(
        say_number(
            "{done} of {rounds} planned is done.",
            "{done} of {rounds} planned are done.",
            done,
            done=numerals.count(done),
            rounds=speech.rounds(planned),
        ),
        early,
        say("What is not settled yet may still turn round: finish the plan."),
    )


def one_mounting(speech: Speech, evidence: doc.Entry) -> str:
    """Many scans of one mounting."""
    names, things = list(evidence["elements"]), speech.things
    return sentences(
        say_number(
            "There are {scans} scans, but {elements} was {done} only once.",
            "There are {scans} scans, but {elements} were {done} only once.",
            len(names),
            scans=numerals.count(evidence["scans"]),
            elements=speech.names(names),
            done=things.done,
        ),
        say(
            "Scans repeated without that repeat its luck as well and count as one trial: {afresh} for every "
            "round.",
            afresh=things.afresh,
        ),
    )


def rounds_inferred(_speech: Speech, evidence: doc.Entry) -> str:
    """No round column."""
    return say(
        "The readings name no round. Which runs belong together was told by {source}: the n-th mounting of "
        "each is round n. If that is wrong, so is the comparison: add a column “{column}”.",
        source=say(_TOLD_BY[evidence["from"]]),
        column="round",
    )


def incomplete_rounds(speech: Speech, evidence: doc.Entry) -> str:
    """Some runs are missing from some rounds."""
    left = list(evidence["not_judged"])
    out = say("Too few runs for a judgement: {elements}.", elements=speech.names(left)) if left else ""
    return sentences(
        say(
            "Runs are missing: {runs}. Each pair is compared over the rounds that hold both, with less to go "
            "by.",
            runs=runs_by_element(speech, evidence["missing"]),
        ),
        out,
        say("Make up the missing runs if you can, each in a round of its own with the others."),
        say(
            "Where one {thing} was three times as noisy as the others and had half as many runs, the rule "
            "erred in {erred} of 100 simulated trials, not {promised}.",
            thing=speech.things.one,
            erred=measured.NOISY_WITH_FEWER_RUNS,
            promised=measured.PROMISED,
        ),
    )


def far_apart(speech: Speech, evidence: doc.Entry) -> str:
    """Rounds that took hours from their first run to their last."""
    rounds = evidence["rounds"]
    longest = max(rounds, key=lambda entry: entry["hours"])
    return sentences(
        say_number(
            "In round {rounds} the runs lie up to {time} apart (round {longest}).",
            "In rounds {rounds} the runs lie up to {time} apart (round {longest}).",
            len(rounds),
            rounds=listed([entry["round"] for entry in rounds], most=MOST_ROUNDS),
            time=numerals.time(longest["hours"]),
            longest=longest["round"],
        ),
        say(
            "A round compares the {things} only as far as the site stays the same from its first run to its "
            "last: do each round in one go, within {time}.",
            things=speech.things.many,
            time=numerals.duration(evidence["allowed_hours"]),
        ),
    )


def not_connected(speech: Speech, evidence: doc.Entry) -> str:
    """Groups of elements that share no round with one another."""
    return say(
        "No chain of shared rounds joins these groups: {groups}. Between two of them a difference may be "
        "that of the day as well, so it is not judged. Do rounds that hold {things} of every group.",
        groups=grouped([speech.names(group) for group in evidence["groups"]]),
        things=speech.things.many,
    )


def plan_not_stated(_speech: Speech, evidence: doc.Entry) -> str:
    """More rounds than the plan that was assumed."""
    return say(
        "No number of rounds was stated, so {planned} was taken as the plan, and there are {done}. The error "
        "rate holds only if the number was fixed before the first run: next time, state planned_rounds "
        "beforehand.",
        planned=evidence["planned_rounds"],
        done=evidence["rounds_done"],
    )


def unplanned_looks(speech: Speech, evidence: doc.Entry) -> str:
    """Rounds beyond a plan that was to be looked at once, at its end."""
    return say(
        "The plan was one look after {rounds}; there are {done} and each further one was a look. The rule "
        "now errs in at most {promise} of 100 such trials, not {stated}. If you mean to look on the way, say "
        "so in the plan ({setting}).",
        rounds=speech.rounds(evidence["planned_rounds"]),
        done=evidence["rounds_done"],
        promise=numerals.in_a_hundred(evidence["promise"]),
        stated=numerals.in_a_hundred(1.0 - speech.trial["confidence"]),
        setting="looks: every round",
    )
