"""The controls and the cautions, each with its evidence, the most severe first."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.severities import SEVERITIES, gravest_first
from reports.view.model import Note, Section
from reports.wording import cautions, drift
from reports.wording.speech import Speech

_TWIN = {
    doc.CLEAR: marked("they came out different, which they should not"),
    doc.WITHIN: marked("they came out the same, as they should"),
    doc.MORE: marked("the trial has not told them apart, which is as it should be"),
}
_PAD_SEEN = marked("the trial found it weaker, as it should")
_PAD_NOT_SEEN = marked("the trial has not found it clearly weaker")


def section(speech: Speech) -> Section:
    """What was checked on the way, what it found, and what to do about it."""
    notes = tuple(
        Note(say(SEVERITIES[entry["severity"]]), cautions.title(entry["code"]), entry["message"])
        for entry in gravest_first(speech.document["cautions"])
    )
    return Section(
        anchor="cautions",
        title=say("What could be wrong with this trial"),
        paragraphs=(*_controls(speech), drift.sentence(speech)),
        notes=notes,
    )


def _controls(speech: Speech) -> list[str]:
    given = {entry["id"]: entry for entry in speech.trial["elements"]}
    found = [_control(speech, given[entry["id"]]) for entry in doc.controls(speech.document)]
    return found or [
        say(
            "No spare copy and no known weakener was run, so nothing checked whether this trial can be "
            "fooled or asleep."
        )
    ]


def _control(speech: Speech, given: doc.Entry) -> str:
    name, twin = speech.name(given["id"]), given.get("twin_of")
    of = twin if twin is not None else given["pad_of"]
    pair = doc.pair(speech.document, given["id"], of)
    seen = {"control": name, "element": speech.name(of), "difference": _seen(speech, pair)}
    if twin is not None:
        found = say(_TWIN[pair["outcome"]])
        return say("Spare copy: {control} is a second {element}; {found}{difference}.", found=found, **seen)
    found = say(_PAD_SEEN if pair["winner"] == of else _PAD_NOT_SEEN)
    return say(
        "Known weakener: {control} is {element} with a loss put in; {found}{difference}.", found=found, **seen
    )


def _seen(speech: Speech, pair: doc.Entry) -> str:
    """The difference that the control showed, by which a reader can check what is said of it."""
    low, high = doc.ends(pair["interval"])
    if pair["difference"] is None or low is None or high is None:
        return ""
    middle = numerals.signed(pair["difference"], numerals.half_width(low, high))
    names = f"{speech.name(pair['first'])} {numerals.MINUS} {speech.name(pair['second'])}"
    return f" ({names} = {middle}, {speech.span(low, high)})"
