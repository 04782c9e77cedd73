"""What was tried, what was left out of the comparison, and which runs were taken out: one row each."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_as, say_number
from reports.view import ranking
from reports.view.model import Bounds, Table
from reports.view.tables import table
from reports.wording import value_pick
from reports.wording.speech import Speech, listed
from reports.wording.vocabulary import FORMS, OUTCOMES

MOST_RUNS: Final = 3
_WHY: Final = {
    "not scanned in every run": marked("not scanned in every run"),
    "nothing received on an unbounded meter": marked(
        "nothing received in some run, on a meter without a lowest reading"
    ),
    "same end of the scale in every run": marked("at the same end of the scale in every run"),
}
_THICK: Final = marked("{size} mm thick")
_LONG: Final = marked("{size} mm long")
_PUT_IN: Final = marked("{size} dB put in")


def tables(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    """The elements, and as far as there are such, what was left out and which runs were taken out."""
    return (_elements(speech, bounds), *_left_out(speech, bounds), *_struck(speech, bounds))


def _elements(speech: Speech, bounds: Bounds) -> Table:
    headings = [
        (speech.things.one, "name"),
        (say("id"), "words"),
        (say("material and form"), "words"),
        (say("condition"), "words"),
        (say("cost"), "number"),
        (say("rounds"), "number"),
        (say("part in the trial"), "words"),
    ]
    whole = doc.labels(speech.document)
    rows = [_element(speech, entry, whole[entry["id"]]) for entry in speech.document["elements"]]
    return table(say("The {things} tried", things=speech.things.many), headings, rows, most=bounds.rows)


def _element(speech: Speech, entry: doc.Entry, whole: str) -> list[str]:
    short = speech.label(entry["id"])
    given = next(item for item in speech.trial["elements"] if item["id"] == entry["id"])
    competes = entry["role"] == "competes"
    return [
        whole if short == whole else f"#{short.rsplit('#', 1)[1]}: {whole}",
        doc.clean(entry["id"]),
        _described(given),
        doc.clean(given.get("condition") or ""),
        value_pick.cost(entry),
        numerals.count(entry["rounds"]),
        say_as("part in the trial", "competes") if competes else ranking.standing(speech, entry),
    ]


def _described(given: doc.Entry) -> str:
    """Material, form and size of an element as far as given: "brass, rod, 3 mm thick, 690 mm long"."""
    parts = [
        doc.clean(given.get("material") or ""),
        say(FORMS[given["form"]]) if given.get("form") else "",
        _sized(_THICK, given.get("diameter_mm")),
        _gauge(given["gauge"]) if given.get("gauge") else "",
        _sized(_LONG, given.get("length_mm")),
        say("coating: {coating}", coating=doc.clean(given["coating"])) if given.get("coating") else "",
        _sized(_PUT_IN, given.get("pad_db")),
    ]
    return ", ".join(part for part in parts if part)


def _sized(says: str, size: float | None) -> str:
    return "" if size is None else say(says, size=numerals.plain(size))


def _gauge(gauge: doc.Entry) -> str:
    told = doc.clean(gauge.get("table") or "") or say("table not given")
    return say("gauge {number} ({table})", number=doc.clean(gauge["number"]), table=told)


def _left_out(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    read = speech.document["read_as"]
    left = [*(read.get("left_out") or ()), *(read.get("channels_left_out") or ())]
    if not left:
        return ()
    rows = [[_left_name(entry), _why(entry["why"]), _runs(speech, entry)] for entry in left]
    headings = [(say("left out"), "name"), (say("why"), "words"), (say("runs that caused it"), "words")]
    return (table(say("Left out of the comparison"), headings, rows, most=bounds.rows),)


def _left_name(entry: doc.Entry) -> str:
    if "channel" in entry:
        return say("channel {name}", name=doc.clean(entry["channel"]))
    return say("RF channel {name}", name=doc.clean(entry["rf_channel"]))


def _why(code: str) -> str:
    return say(_WHY[code]) if code in _WHY else doc.clean(code)


def _runs(speech: Speech, entry: doc.Entry) -> str:
    runs = entry.get("runs") or []
    named = [
        say("{element} in round {number}", element=speech.label(run["element"]), number=run["round"])
        for run in runs[:MOST_RUNS]
    ]
    more = (entry.get("run_count") or len(runs)) - len(named)
    counted = say_number("{number} more", "{number} more", more, number=numerals.count(more))
    return listed([*named, counted] if more > 0 else named)


def _struck(speech: Speech, bounds: Bounds) -> tuple[Table, ...]:
    struck = speech.document["struck"]
    if not struck or not struck["runs"]:
        return ()
    rows = [
        [speech.label(run["element"]), str(run["round"]), doc.clean(run["reason"] or "")]
        for run in struck["runs"]
    ]
    headings = [(speech.things.one, "name"), (say("round"), "number"), (say("reason"), "words")]
    without = struck["without_strikes"]
    notes = (_without(speech, without),) if without else ()
    return (table(say("Runs taken out, and why"), headings, rows, most=bounds.rows, notes=notes),)


def _without(speech: Speech, without: doc.Entry) -> str:
    winner = f" ({speech.label(without['winner'])})" if without["winner"] else ""
    return say(
        "With these runs left in, the outcome is “{outcome}”{winner}; as reported, without them, it is "
        "“{reported}”.",
        outcome=say(OUTCOMES[without["outcome"]]),
        winner=winner,
        reported=say(OUTCOMES[speech.verdict["outcome"]]),
    )
