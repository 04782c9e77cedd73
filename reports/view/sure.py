"""How sure the answer is: the rule with its error rate, the intervals, and the schedule of looks."""

from reports import document as doc
from reports import numerals
from reports.language import say, say_as
from reports.view.model import Bounds, Fact, FactList, Section, Table
from reports.view.tables import table
from reports.wording import rule
from reports.wording.speech import Speech


def section(speech: Speech, bounds: Bounds) -> Section:
    """The rule, what it may be wrong in, and the looks at which it was asked."""
    rows = speech.document["looks"]["schedule"]
    return Section(
        anchor="sure",
        title=say("How sure this is"),
        paragraphs=(rule.sentence(speech), _fixed_beforehand(speech)),
        facts=(FactList(tuple(_facts(speech))),),
        tables=(_schedule(speech, bounds),) if rows else (),
    )


def _facts(speech: Speech) -> list[Fact]:
    rate = numerals.in_a_hundred(doc.error_rate(speech.document))
    return [
        Fact(
            say("The winner"), say("a false one is named in at most {number} of 100 such trials", number=rate)
        ),
        Fact(
            say("The table of pairs"),
            say("a false call anywhere in it in at most {number} of 100 such trials", number=rate),
        ),
        Fact(say("Intervals"), _intervals(speech)),
        Fact(say("Decided"), _decided(speech)),
        Fact(say("This look"), _this_look(speech)),
    ]


def _intervals(speech: Speech) -> str:
    pairs = speech.document["pairs"]
    if not any(pair["interval"] for pair in pairs):
        return say_as("intervals", "none can be given yet")
    level = numerals.per_cent(speech.trial["confidence"])
    if len(pairs) == 1:
        return say("{level} for the one pair", level=level)
    return say(
        "{level} for all {number} pairs together; those of the ranking for the leader alone",
        level=level,
        number=numerals.count(len(pairs)),
    )


def _decided(speech: Speech) -> str:
    round_ = speech.verdict["decided_at_round"]
    if not round_:
        return say("nothing yet")
    return say("in round {number}; a decision once reached stands", number=round_)


def _this_look(speech: Speech) -> str:
    now = this_look(speech)
    if now is None or now["level"] is None:
        return say("no look: nothing can be decided here")
    level = numerals.probability(now["level"])
    return say("after round {number}; the level it may use is {level}", number=now["round"], level=level)


def this_look(speech: Speech) -> doc.Entry | None:
    """The present look in the schedule, or None where there is none."""
    looks = speech.document["looks"]
    return next((look for look in looks["schedule"] if look["round"] == looks["this"]), None)


def _fixed_beforehand(speech: Speech) -> str:
    planned = speech.rounds(speech.document["looks"]["planned_rounds"])
    return say(
        "How much error each look may spend was fixed beforehand, by the number of {things}, the plan "
        "({rounds}) and the confidence alone, not by the readings.",
        things=speech.things.many,
        rounds=planned,
    )


def _schedule(speech: Speech, bounds: Bounds) -> Table:
    found = speech.document["looks"]
    headings = [
        (say("after round"), "name"),
        (say("error spent so far"), "number"),
        (say("level of this look"), "number"),
        (say("critical value"), "number"),
        (say("remark"), "words"),
    ]
    rows = [_look(look, now=found["this"]) for look in found["schedule"]]
    marked = frozenset(
        place for place, look in enumerate(found["schedule"]) if look["round"] == found["this"]
    )
    return table(say("Schedule of looks"), headings, rows, most=bounds.rows, marked=marked)


def _look(look: doc.Entry, *, now: int | None) -> list[str]:
    critical = look["critical"]
    return [
        str(look["round"]),
        numerals.probability(look["spent"]) if look["spent"] else "0",
        numerals.probability(look["level"]),
        numerals.fixed(critical, 2) if critical is not None else "",
        _remark(look, now=now),
    ]


def _remark(look: doc.Entry, *, now: int | None) -> str:
    if look["round"] == now:
        return say("this look")
    if look["level"] is None:
        return say("no look: nothing can be decided")
    return say("earlier look") if now is not None and look["round"] < now else say("still to come")
