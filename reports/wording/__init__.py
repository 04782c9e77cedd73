"""Every sentence about a trial: verdict, reasons, reception, cautions, worth of one scan, what to do next.

The analysis gives codes and numbers; this package turns them into words. `complete` fills the words into the
document itself, so that every form in which it leaves says the same. Nothing here knows HTML or PDF.
"""

from typing import Any

from reports import document as doc
from reports.locales import DEFAULT, LOCALES, spoken
from reports.wording import cautions, one_scan, reasons, reception, verdict
from reports.wording.speech import Speech, speech_of


def worded(document: doc.Document) -> dict[str, Any]:
    """A copy of an analysis document with every sentence as the locale that is spoken has it.

    Documents are kept in the default locale: in another one all sentences are made anew. KeyError as for
    `complete`.
    """
    return complete(document if spoken() is LOCALES[DEFAULT] else _unworded(document))


def complete(document: doc.Document) -> dict[str, Any]:
    """A copy of an analysis document with every sentence filled in; sentences already there are kept.

    KeyError for a caution, a reason, a unit or a kind of comparison that has no words.
    """
    speech = speech_of(document)
    return {
        **document,
        "verdict": _verdict(speech),
        "one_scan": _one_scan(speech),
        "cautions": [_caution(speech, entry) for entry in document["cautions"]],
    }


def _unworded(document: doc.Document) -> dict[str, Any]:
    scan = document["one_scan"]
    return {
        **document,
        "verdict": {
            **document["verdict"],
            "statement": "",
            "reception_statement": "",
            "reasons": [{**entry, "message": ""} for entry in document["verdict"]["reasons"]],
        },
        "one_scan": scan and {**scan, "statement": ""},
        "cautions": [{**entry, "message": ""} for entry in document["cautions"]],
    }


def _verdict(speech: Speech) -> dict[str, Any]:
    found = speech.verdict
    return {
        **found,
        "statement": found["statement"] or verdict.statement(speech),
        "reception_statement": found["reception_statement"] or reception.statement(speech),
        "reasons": [_reason(speech, entry) for entry in found["reasons"]],
    }


def _reason(speech: Speech, entry: doc.Entry) -> dict[str, Any]:
    return {**entry, "message": entry["message"] or reasons.message(speech, entry["code"], entry["evidence"])}


def _caution(speech: Speech, entry: doc.Entry) -> dict[str, Any]:
    return {
        **entry,
        "message": entry["message"] or cautions.message(speech, entry["code"], entry["evidence"]),
    }


def _one_scan(speech: Speech) -> dict[str, Any] | None:
    scan = speech.document["one_scan"]
    return scan and {**scan, "statement": scan["statement"] or one_scan.statement(speech)}
