"""What to do next, in one to four orders."""

from reports import document as doc
from reports import numerals
from reports.wording import one_scan, value_pick
from reports.wording.cautions import phrase
from reports.wording.cautions.rounds import runs_by_element
from reports.wording.speech import Speech, listed


def sentences(speech: Speech) -> list[str]:
    """Orders, the first one first; never empty."""
    steps = _settled(speech) if speech.verdict["outcome"] != doc.MORE else _open(speech)
    return [step for step in steps if step]


def _settled(speech: Speech) -> list[str]:
    if speech.verdict["outcome"] == doc.CLEAR:
        first = f"Use {speech.name(speech.verdict['winner'])}. {_enough(speech)}"
    else:
        first = f"Choose by cost or convenience between {speech.names(speech.verdict['leading'])}."
    return [first, _repeat(speech), value_pick.sentence(speech), _rest(speech), look_at(speech)]


def _enough(speech: Speech) -> str:
    if doc.caution_evidence(speech.document, "rests-on-known-repeatability") is not None:
        return "That rests on a noise known beforehand; with rounds of its own the trial would do without."
    return "No more runs are needed to say that it is the best."


def _open(speech: Speech) -> list[str]:
    if doc.reason(speech.document, "nothing-to-compare") is not None:
        return [f"Add a second {speech.things.one} and scan both in every round."]
    if doc.reason(speech.document, "no-level") is not None:
        return [_level_advice(speech)]
    if doc.stops(speech.document):
        causes = listed([phrase(caution["code"]) for caution in doc.stops(speech.document)])
        return [f"First put right what stopped the trial ({causes}); see the cautions.", _again(speech)]
    if speech.document["one_scan"] is not None and not doc.by_known_noise(speech.document):
        return [one_scan.remount_test(speech), one_scan.verdict_needs(speech), _again(speech)]
    return [_repeat(speech), _more_rounds(speech), _again(speech), value_pick.sentence(speech)]


def _level_advice(speech: Speech) -> str:
    if doc.caution_evidence(speech.document, "at-ceiling") is not None:
        return (
            "Put an attenuator in line, the same one for every run, until the readings leave the top of "
            "the scale."
        )
    if doc.caution_evidence(speech.document, "at-floor") is not None:
        return (
            "Raise the level or choose stronger channels, until the readings leave the bottom of the scale."
        )
    return (
        _repeat(speech)
        or "Repeat the runs that left gaps, so that at least one signal has a level in every run."
    )


def _repeat(speech: Speech) -> str:
    runs = speech.document["read_as"].get("runs_to_repeat") or []
    if not runs:
        return ""
    return f"Repeat the runs that cost the comparison most of its signals: {runs_by_element(speech, runs)}."


def _more_rounds(speech: Speech) -> str:
    verdict = speech.verdict
    likely, safe = verdict["more_rounds"], verdict["more_rounds_safe"]
    if doc.reason(speech.document, "too-fine") is not None:
        return (
            "More rounds will hardly settle it here: take a finer meter, a quieter site or a wider margin, "
            "or choose by cost."
        )
    if likely is None:
        return _until_possible(speech)
    perhaps = f", perhaps {numerals.count(safe)}" if safe is not None and safe > likely else ""
    return f"Run {_about(likely)} more {'round' if likely == 1 else 'rounds'}{perhaps}{_time(speech)}."


def _about(number: int) -> str:
    return f"about {numerals.count(number)}"


def _time(speech: Speech) -> str:
    hours = speech.verdict["hours"]
    if not hours or hours["more_rounds"] is None:
        return ""
    safe = hours["more_rounds_safe"]
    longer = safe is not None and safe > hours["more_rounds"]
    perhaps = f", perhaps {numerals.duration(safe).removeprefix('about ')}" if longer else ""
    return f" ({numerals.duration(hours['more_rounds'])}{perhaps})"


def _until_possible(speech: Speech) -> str:
    fewest, done, planned = (
        speech.verdict["fewest_rounds"],
        speech.verdict["rounds_done"],
        speech.trial["planned_rounds"],
    )
    target = max(fewest or 0, planned)
    if target <= done:
        return "Run more rounds; how many cannot be told from these."
    early = f" No verdict is possible with fewer than {fewest}." if fewest and fewest > done else ""
    return f"Run {numerals.count(target - done)} more {'round' if target - done == 1 else 'rounds'}.{early}"


def _again(speech: Speech) -> str:
    order = "in a fresh random order"
    return f"In every round, {speech.things.afresh} and scan it once, {order}."


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
    return f"Only to tell the others apart as well: about {numerals.count(max(wanted))} more rounds."


def look_at(speech: Speech) -> str:
    """That there are cautions, which ones; "" where none is a warning."""
    warnings = [caution for caution in speech.document["cautions"] if caution["severity"] == "warning"]
    if not warnings:
        return ""
    return (
        f"Before you act on it, read the cautions: {listed([phrase(c['code']) for c in warnings], most=3)}."
    )
