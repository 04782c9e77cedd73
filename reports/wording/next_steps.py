"""What to do next, in one to four orders."""

from reports import document as doc
from reports import numerals
from reports.language import say, say_number
from reports.wording import one_scan, value_pick
from reports.wording.cautions import phrase
from reports.wording.cautions.grouped import runs_by_element
from reports.wording.speech import Speech, listed


def sentences(speech: Speech) -> list[str]:
    """Orders, the first one first; never empty."""
    steps = _settled(speech) if speech.verdict["outcome"] != doc.MORE else _open(speech)
    return [step for step in steps if step]


def _settled(speech: Speech) -> list[str]:
    if speech.verdict["outcome"] == doc.CLEAR:
        use = say("Use {element}.", element=speech.name(speech.verdict["winner"]))
        first = f"{use} {_enough(speech)}"
    else:
        first = say(
            "Choose by cost or convenience between {elements}.",
            elements=speech.names(speech.verdict["leading"]),
        )
    return [first, _repeat(speech), value_pick.sentence(speech), _rest(speech), look_at(speech)]


def _enough(speech: Speech) -> str:
    if doc.caution_evidence(speech.document, "rests-on-known-repeatability") is not None:
        return say(
            "That rests on a noise known beforehand; with rounds of its own the trial would do without."
        )
    return say("No more runs are needed to say that it is the best.")


def _open(speech: Speech) -> list[str]:
    if doc.reason(speech.document, "nothing-to-compare") is not None:
        return [say("Add a second {element} and scan both in every round.", element=speech.things.one)]
    if doc.reason(speech.document, "no-level") is not None:
        return [_level_advice(speech)]
    if doc.stops(speech.document):
        return [_put_right(speech), _again(speech)]
    if speech.document["one_scan"] is not None and not doc.by_known_noise(speech.document):
        return [one_scan.remount_test(speech), one_scan.verdict_needs(speech), _again(speech)]
    return [_repeat(speech), _more_rounds(speech), _again(speech), value_pick.sentence(speech)]


def _put_right(speech: Speech) -> str:
    causes = listed([phrase(caution["code"]) for caution in doc.stops(speech.document)])
    return say("First put right what stopped the trial ({cautions}); see the cautions.", cautions=causes)


def _level_advice(speech: Speech) -> str:
    if doc.caution_evidence(speech.document, "at-ceiling") is not None:
        return say(
            "Put an attenuator in line, the same one for every run, until the readings leave the top of "
            "the scale."
        )
    if doc.caution_evidence(speech.document, "at-floor") is not None:
        return say(
            "Raise the level or choose stronger channels, until the readings leave the bottom of the scale."
        )
    return _repeat(speech) or say(
        "Repeat the runs that left gaps, so that at least one signal has a level in every run."
    )


def _repeat(speech: Speech) -> str:
    runs = speech.document["read_as"].get("runs_to_repeat") or []
    if not runs:
        return ""
    return say(
        "Repeat the runs that cost the comparison most of its signals: {runs}.",
        runs=runs_by_element(speech, runs),
    )


def _more_rounds(speech: Speech) -> str:
    verdict = speech.verdict
    likely, safe = verdict["more_rounds"], verdict["more_rounds_safe"]
    if doc.reason(speech.document, "too-fine") is not None:
        return say(
            "More rounds will hardly settle it here: take a finer meter, a quieter site or a wider margin, "
            "or choose by cost."
        )
    if likely is None:
        return _until_possible(speech)
    return say_number(
        "Run about {number} more round{perhaps}{time}.",
        "Run about {number} more rounds{perhaps}{time}.",
        likely,
        number=numerals.count(likely),
        perhaps=perhaps_more(likely, safe),
        time=_time(speech),
    )


def perhaps_more(likely: int, safe: int | None) -> str:
    """How many rounds it may come to, put behind how many it is likely to be; "" where that is no more."""
    return say(", perhaps {number}", number=numerals.count(safe)) if safe and safe > likely else ""


def _time(speech: Speech) -> str:
    hours = speech.verdict["hours"]
    if not hours or hours["more_rounds"] is None:
        return ""
    time, safe = numerals.duration(hours["more_rounds"]), hours["more_rounds_safe"]
    if safe is None or safe <= hours["more_rounds"]:
        return f" ({time})"
    return say(" ({time}, perhaps {longer})", time=time, longer=numerals.time(safe))


def _until_possible(speech: Speech) -> str:
    fewest, done, planned = (
        speech.verdict["fewest_rounds"],
        speech.verdict["rounds_done"],
        speech.trial["planned_rounds"],
    )
    target = max(fewest or 0, planned)
    if target <= done:
        return say("Run more rounds; how many cannot be told from these.")
    left = target - done
    run = say_number(
        "Run {number} more round.", "Run {number} more rounds.", left, number=numerals.count(left)
    )
    if not fewest or fewest <= done:
        return run
    early = say("No verdict is possible with fewer than {number}.", number=fewest)
    return f"{run} {early}"


def _again(speech: Speech) -> str:
    return say(
        "In every round, {afresh} and scan it once, in a fresh random order.", afresh=speech.things.afresh
    )


def _rest(speech: Speech) -> str:
    competing = {entry["id"] for entry in doc.competing(speech.document)}
    needed = [
        pair["more_rounds"]
        for pair in speech.document["pairs"]
        if pair["outcome"] == doc.MORE and {pair["first"], pair["second"]} <= competing
    ]
    wanted = doc.known(needed)
    if not wanted:
        return ""
    return say_number(
        "Only to tell the others apart as well: about {number} more round.",
        "Only to tell the others apart as well: about {number} more rounds.",
        max(wanted),
        number=numerals.count(max(wanted)),
    )


def look_at(speech: Speech) -> str:
    """That there are cautions, which ones; "" where none is a warning."""
    warnings = [caution for caution in speech.document["cautions"] if caution["severity"] == "warning"]
    if not warnings:
        return ""
    return say(
        "Before you act on it, read the cautions: {cautions}.",
        cautions=listed([phrase(caution["code"]) for caution in warnings], most=3),
    )
