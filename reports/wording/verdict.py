"""The verdict in one sentence, as long and as plain for each of the three outcomes."""

from reports import document as doc
from reports import numerals
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
        return (
            f"{winner} is the best: this was settled in round {speech.verdict['decided_at_round']} and "
            "stands."
        )
    closest = min(rivals, key=lambda rival: rival["difference"])
    ahead = speech.between(closest["low"], closest["high"])
    if len(rivals) == 1:
        return (
            f"{winner} is better than {speech.name(closest['element'])}: it reads {ahead} higher on average."
        )
    return (
        f"{winner} is the best of the {_judged(speech, len(rivals) + 1)}: it reads {ahead} higher on average "
        f"than the next best, {speech.name(closest['element'])}."
    )


def _judged(speech: Speech, number: int) -> str:
    """How many are spoken of, where some could not be judged."""
    left_out = " that could be judged" if doc.not_judged(speech.document) else ""
    return f"{speech.compared(number)}{left_out}"


def _within_noise(speech: Speech) -> str:
    if stands_from_before(speech):
        return (
            f"No difference that matters separates the best {speech.things.many}: this was settled in round "
            f"{speech.verdict['decided_at_round']} and stands."
        )
    best, leading = doc.leader(speech.document), speech.verdict["leading"]
    behind = len(speech.verdict["against"]) + 1 - len(leading)
    rest = f"; {_the_others(behind)} behind" if behind else ""
    sharing = [name for name in leading if best is not None and name != best["id"]]
    if best is not None and set(small_but_real(speech)) == set(sharing):
        return (
            f"{speech.name(best['id'])} is a little better than {speech.names(sharing)}, but by less than "
            f"the {speech.margin()} you would act on{rest}."
        )
    return (
        f"Nothing to choose between {speech.names(leading)}: any true difference from the best of them is "
        f"smaller than the {speech.margin()} you would act on{rest}."
    )


def small_but_real(speech: Speech) -> list[str]:
    """Those that are surely behind the leader, but surely by less than the margin."""
    return [
        rival["element"]
        for rival in speech.verdict["against"]
        if rival["outcome"] == doc.WITHIN and rival["low"] is not None and rival["low"] > 0
    ]


def _the_others(number: int) -> str:
    return "the other one is" if number == 1 else f"the other {numerals.count(number)} are"


def _needs_more_runs(speech: Speech) -> str:
    document, things = speech.document, speech.things
    if doc.reason(document, "nothing-to-compare") is not None:
        return f"No verdict: the readings hold one {things.one} only, so there is nothing to compare it with."
    if doc.reason(document, "no-level") is not None:
        return f"No verdict: the readings hold no level by which the {things.many} could be compared."
    if doc.reason(document, "stopped") is not None:
        return _stopped(speech)
    if doc.reason(document, "too-few-rounds") is not None:
        return _too_few_rounds(speech)
    return _not_settled(speech)


def _stopped(speech: Speech) -> str:
    evidence = doc.caution_evidence(speech.document, "one-mounting")
    if evidence is not None and len(doc.stops(speech.document)) == 1:
        names = list(evidence["elements"])
        return (
            f"No verdict: {speech.names(names)} {'was' if len(names) == 1 else 'were'} {speech.things.done} "
            "only once, and more scans of that say nothing new."
        )
    return "No verdict: a check that guards this trial failed, and until it is put right no result counts."


def _too_few_rounds(speech: Speech) -> str:
    done, number = speech.verdict["rounds_done"], speech.compared(len(doc.competing(speech.document)))
    ahead = _came_out(speech)
    if done == 1:
        few = doc.caution_evidence(speech.document, "one-round")
        what = "One round" if few and few["most_mountings"] > 1 else "One scan of each"
        return f"{what} cannot say which of the {number} is best: {ahead}, and chance alone can do that."
    return f"Not settled after {speech.rounds(done)}: {ahead}, but so few cannot tell the {number} apart."


def _came_out(speech: Speech) -> str:
    best, level = doc.leader(speech.document), doc.level_at_top(speech.document)
    if level:
        return f"{speech.names(level)} came out level at the top"
    return f"{speech.name(best['id'])} came out ahead" if best else "one came out ahead"


def _not_settled(speech: Speech) -> str:
    best, after = doc.leader(speech.document), speech.rounds(speech.verdict["rounds_done"])
    level = doc.level_at_top(speech.document)
    top = {best["id"], *level} if best is not None else set()
    rivals = [name for name in speech.verdict["leading"] if name not in top]
    if best is None or not (rivals or level):
        return f"Not settled after {after}: the {speech.things.many} cannot be told apart yet."
    ahead = f"{speech.names(level)} are level" if level else f"{speech.name(best['id'])} is ahead"
    but = (
        f", {'and' if level else 'but'} {speech.names(rivals, joined='or')} may be just as good"
        if rivals
        else ""
    )
    return f"Not settled after {after}: {ahead}{but}."
