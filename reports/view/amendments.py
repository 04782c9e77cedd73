"""What was changed on a kept trial since its first readings: its plan, and its batches of readings."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_as
from reports.view.model import Bounds, Section, Table
from reports.view.tables import table
from reports.wording.cautions.history import changed
from reports.wording.speech import Speech

_KINDS = {
    "readings": marked("readings"),
    "correction": marked("correction"),
    "withdrawal": marked("withdrawal"),
}


def sections(speech: Speech, bounds: Bounds) -> tuple[Section, ...]:
    """The section, or none for a trial that is not kept."""
    past = speech.document["history"]
    if past is None:
        return ()
    return (
        Section(
            anchor="amendments",
            title=say("What was changed, and when"),
            paragraphs=(in_short(speech),),
            tables=(*_changes(speech, past, bounds), *_batches(past, bounds)),
        ),
    )


def in_short(speech: Speech) -> str:
    """Whether anything was changed after the first readings, counted."""
    past = speech.document["history"]
    if past is None:
        return say_as("changes to the plan", "none is recorded in this document")
    amended = [batch for batch in past["batches"] if batch["kind"] != "readings"]
    if not past["changes"] and not amended:
        return say_as("changes to the plan", "none since the first readings")
    changes = numerals.number_of(len(past["changes"]), "change of the trial", "changes of the trial")
    batches = numerals.number_of(len(amended), "correction or withdrawal", "corrections or withdrawals")
    return say(
        "Amended since the first readings: {changes}, {batches} of readings", changes=changes, batches=batches
    )


def _changes(speech: Speech, past: doc.Entry, bounds: Bounds) -> tuple[Table, ...]:
    rows = [
        [str(change["number"]), _when(change), changed(speech, change), doc.clean(change["reason"])]
        for change in past["changes"]
    ]
    headings = [
        (say("change"), "name"),
        (say("at (UTC)"), "words"),
        (say("what"), "words"),
        (say("why"), "words"),
    ]
    return (table(say("Changes of the trial"), headings, rows, most=bounds.rows),) if rows else ()


def _batches(past: doc.Entry, bounds: Bounds) -> tuple[Table, ...]:
    rows = [
        [str(batch["number"]), _when(batch), _kind(batch), numerals.count(batch["rows"]), _why(batch)]
        for batch in past["batches"]
    ]
    headings = [
        (say("batch"), "name"),
        (say("at (UTC)"), "words"),
        (say("what"), "words"),
        (say("readings"), "number"),
        (say("why"), "words"),
    ]
    return (table(say("Batches of readings"), headings, rows, most=bounds.rows),) if rows else ()


def _when(entry: doc.Entry) -> str:
    return doc.clean(entry["at"])[:16].replace("T", " ")


def _kind(batch: doc.Entry) -> str:
    kind, withdrawn, by = say(_KINDS[batch["kind"]]), batch["withdraws"], batch["withdrawn_by"]
    said = kind if withdrawn is None else say("{kind} of batch {number}", kind=kind, number=withdrawn)
    return said if by is None else say("{kind}, withdrawn by batch {number}", kind=said, number=by)


def _why(batch: doc.Entry) -> str:
    return doc.clean(batch["reason"] or "")
