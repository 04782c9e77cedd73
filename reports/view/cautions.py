"""The controls and the cautions, each with its evidence, the most severe first."""

from reports import document as doc
from reports.view.model import Note, Section
from reports.wording import cautions, value_pick
from reports.wording.speech import Speech

_ORDER = ("stop", "warning", "note")
_TWIN = {
    doc.CLEAR: "they came out different, which they should not",
    doc.WITHIN: "they came out the same, as they should",
    doc.MORE: "the trial has not told them apart, which is as it should be",
}
_PAD_SEEN = "the trial found it weaker, as it should"
_PAD_NOT_SEEN = "the trial has not found it clearly weaker"
_SAYS = {"stop": "Stop", "warning": "Warning", "note": "Note"}


def section(speech: Speech) -> Section:
    """What was checked on the way, what it found, and what to do about it."""
    listed = sorted(speech.document["cautions"], key=lambda entry: _ORDER.index(entry["severity"]))
    notes = tuple(
        Note(_SAYS[entry["severity"]], cautions.title(entry["code"]), entry["message"]) for entry in listed
    )
    pick = value_pick.sentence(speech)
    return Section(
        anchor="cautions",
        title="Checks and cautions",
        paragraphs=tuple(_controls(speech)),
        notes=notes,
        remarks=(f"Value for money: {pick}",) if pick else (),
    )


def _controls(speech: Speech) -> list[str]:
    given = {entry["id"]: entry for entry in speech.trial["elements"]}
    found = [_control(speech, given[entry["id"]]) for entry in doc.controls(speech.document)]
    return found or [
        (
            "No spare copy and no known weakener was run, so nothing checked whether this trial can be "
            "fooled or asleep."
        )
    ]


def _control(speech: Speech, given: doc.Entry) -> str:
    name, twin = speech.name(given["id"]), given.get("twin_of")
    of = twin if twin is not None else given["pad_of"]
    pair = doc.pair(speech.document, given["id"], of)
    if twin is not None:
        return f"Spare copy: {name} is a second {speech.name(of)}; {_TWIN[pair['outcome']]}."
    seen = _PAD_SEEN if pair["winner"] == of else _PAD_NOT_SEEN
    return f"Known weakener: {name} is {speech.name(of)} with a loss put in; {seen}."
