"""The verdict in one sentence, as long and as plain for each of the three outcomes."""

from reports import document as doc
from reports import numerals
from reports.language import say, say_number
from reports.wording.speech import Speech


def statement(speech: Speech) -> str:
    """One sentence that a person can say aloud: which is best, that none is, or that it is not settled."""
    says = {doc.CLEAR: _clear_winner, doc.WITHIN: _within_noise, doc.MORE: _needs_more_runs}
    return says[speech.verdict["outcome"]](speech)


def stands_from_before(speech: Speech) -> bool:
    """Whether the decision is an earlier look's, and the present look alone would not say the same."""
    best = doc.leader(speech.document)
    other_leader = speech.verdict["winner"] is not None and (
        best is None or best["id"] != speech.verdict["winner"]
    )
    return other_leader or doc.reason(speech.document, "present-look-differs") is not None


def _clear_winner(speech: Speech) -> str:
    winner, rivals = speech.name(speech.verdict["winner"]), speech.verdict["against"]
    if stands_from_before(speech) or not rivals:
        return say(
            "{winner} is the best: this was settled in round {round} and stands.",
            winner=winner,
            round=speech.verdict["decided_at_round"],
        )
    closest = min(rivals, key=lambda rival: rival["difference"])
    ahead, rival = speech.between(closest["low"], closest["high"]), speech.name(closest["element"])
    if len(rivals) == 1:
        return say(
            "{winner} is better than {rival}: it reads {ahead} higher on average.",
            winner=winner,
            rival=rival,
            ahead=ahead,
        )
    return say(
        "{winner} is the best of the {elements}: it reads {ahead} higher on average than the next best, "
        "{rival}.",
        winner=winner,
        elements=_judged(speech, len(rivals) + 1),
        ahead=ahead,
        rival=rival,
    )


def _judged(speech: Speech, number: int) -> str:
    """How many are spoken of, where some could not be judged."""
    elements = speech.compared(number)
    return (
        say("{elements} that could be judged", elements=elements)
        if doc.not_judged(speech.document)
        else elements
    )


def _within_noise(speech: Speech) -> str:
    if stands_from_before(speech):
        return say(
            "No difference that matters separates the best {elements}: this was settled in round {round} and "
            "stands.",
            elements=speech.things.many,
            round=speech.verdict["decided_at_round"],
        )
    best, leading = doc.leader(speech.document), speech.verdict["leading"]
    behind = len(speech.verdict["against"]) + 1 - len(leading)
    rest = _rest(behind) if behind else ""
    sharing = [name for name in leading if best is not None and name != best["id"]]
    if best is not None and set(small_but_real(speech)) == set(sharing):
        return say(
            "{best} is a little better than {others}, but by less than the {margin} you would act on{rest}.",
            best=speech.name(best["id"]),
            others=speech.names(sharing),
            margin=speech.margin(),
            rest=rest,
        )
    return say(
        "Nothing to choose between {elements}: any true difference from the best of them is smaller than the "
        "{margin} you would act on{rest}.",
        elements=speech.names(leading),
        margin=speech.margin(),
        rest=rest,
    )


def small_but_real(speech: Speech) -> list[str]:
    """Those that are surely behind the leader, but surely by less than the margin."""
    return [
        rival["element"]
        for rival in speech.verdict["against"]
        if rival["outcome"] == doc.WITHIN and rival["low"] is not None and rival["low"] > 0
    ]


def _rest(number: int) -> str:
    """Behind those that share the lead; it ends their sentence."""
    return say_number(
        "; the other one is behind",
        "; the other {number} are behind",
        number,
        number=numerals.count(number),
    )


def _needs_more_runs(speech: Speech) -> str:
    document, things = speech.document, speech.things
    if doc.reason(document, "nothing-to-compare") is not None:
        return say(
            "No verdict: the readings hold one {element} only, so there is nothing to compare it with.",
            element=things.one,
        )
    if doc.reason(document, "no-level") is not None:
        return say(
            "No verdict: the readings hold no level by which the {elements} could be compared.",
            elements=things.many,
        )
    if doc.reason(document, "stopped") is not None:
        return _stopped(speech)
    if doc.reason(document, "too-few-rounds") is not None:
        return _too_few_rounds(speech)
    return _not_settled(speech)


def _stopped(speech: Speech) -> str:
    evidence = doc.caution_evidence(speech.document, "one-mounting")
    if evidence is not None and len(doc.stops(speech.document)) == 1:
        names = list(evidence["elements"])
        return say_number(
            "No verdict: {elements} was {done} only once, and more scans of that say nothing new.",
            "No verdict: {elements} were {done} only once, and more scans of that say nothing new.",
            len(names),
            elements=speech.names(names),
            done=speech.things.done,
        )
    return say(
        "No verdict: a check that guards this trial failed, and until it is put right no result counts."
    )


def _too_few_rounds(speech: Speech) -> str:
    done, number = speech.verdict["rounds_done"], speech.compared(len(doc.competing(speech.document)))
    ahead = _came_out(speech)
    if done == 1:
        return _one_alone(speech, number, ahead)
    return say(
        "Not settled after {rounds}: {ahead}, but so few cannot tell the {elements} apart.",
        rounds=speech.rounds(done),
        ahead=ahead,
        elements=number,
    )


def _one_alone(speech: Speech, elements: str, ahead: str) -> str:
    few = doc.caution_evidence(speech.document, "one-round")
    if few and few["most_mountings"] > 1:
        return say(
            "One round cannot say which of the {elements} is best: {ahead}, and chance alone can do that.",
            elements=elements,
            ahead=ahead,
        )
    return say(
        "One scan of each cannot say which of the {elements} is best: {ahead}, and chance alone can do that.",
        elements=elements,
        ahead=ahead,
    )


def _came_out(speech: Speech) -> str:
    best, level = doc.leader(speech.document), doc.level_at_top(speech.document)
    if level:
        return say("{elements} came out level at the top", elements=speech.names(level))
    if best is None:
        return say("one came out ahead")
    return say("{element} came out ahead", element=speech.name(best["id"]))


def _not_settled(speech: Speech) -> str:
    best, after = doc.leader(speech.document), speech.rounds(speech.verdict["rounds_done"])
    level = doc.level_at_top(speech.document)
    top = {best["id"], *level} if best is not None else set()
    rivals = [name for name in speech.verdict["leading"] if name not in top]
    if best is None or not (rivals or level):
        return say(
            "Not settled after {rounds}: the {elements} cannot be told apart yet.",
            rounds=after,
            elements=speech.things.many,
        )
    others = speech.names(rivals, joined="or")
    if level:
        ahead = say("{elements} are level", elements=speech.names(level))
        rest = say(", and {others} may be just as good", others=others)
    else:
        ahead = say("{element} is ahead", element=speech.name(best["id"]))
        rest = say(", but {others} may be just as good", others=others)
    return say(
        "Not settled after {rounds}: {ahead}{rest}.", rounds=after, ahead=ahead, rest=rest if rivals else ""
    )
