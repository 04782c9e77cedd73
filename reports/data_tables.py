"""The tables of an analysis document as data: every row of them, numbers as they are, nothing rounded.

A row is a mapping from column to cell. What is nested in the document becomes columns of its own: the `low`
of an `interval` is `interval_low`. Lists of words are one cell, their entries separated by semicolons.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from reports import document as doc
from reports.wording import limits, next_steps, rule
from reports.wording.safety import site_of
from reports.wording.speech import speech_of

Cell = str | int | float | bool | None
Row = Mapping[str, Cell]
OF_CHANNEL = ("channel", "rf_channel", "band")
OF_TRIAL = ("margin", "confidence", "planned_rounds", "looks", "reference", "region", "compares", "seed")


def data_tables(document: doc.Document) -> Iterator[tuple[str, list[Row]]]:
    """The tables by name, in order, those without rows left out.

    `document` must be complete (see `wording.complete`).
    """
    for name, rows in _tables(document):
        listed = list(rows)
        if listed:
            yield name, listed


def flat(entry: Mapping[str, Any], *, without: Sequence[str] = ()) -> dict[str, Cell]:
    """An entry of the document as one row; lists of entries are left out, since they are tables."""
    row: dict[str, Cell] = {}
    for name, value in entry.items():
        if name in without:
            continue
        if isinstance(value, Mapping):
            row |= {f"{name}_{below}": cell for below, cell in flat(value).items()}
        elif not isinstance(value, list):
            row[name] = value
        elif not any(isinstance(one, Mapping | list) for one in value):
            row[name] = "; ".join(str(one) for one in value)
    return row


def _tables(document: doc.Document) -> Iterator[tuple[str, Iterable[Row]]]:
    yield "facts", ({"fact": name, "value": value} for name, value in _facts(document))
    yield "sentences", _sentences(document)
    yield "elements", _elements(document)
    yield "leader against", (flat(rival) for rival in document["verdict"]["against"])
    yield "pairs", (flat(pair) for pair in document["pairs"])
    yield "rounds", _rounds(document)
    yield "channels", _below(_as("channel", document["channels"]), "elements", OF_CHANNEL)
    yield "bands", _below(document["bands"] or (), "pairs", ("band", "rf_channels"))
    received = [
        {**entry, "rf_channels": _as("rf_channel", entry["rf_channels"])}
        for entry in _as("element", document["reception"]["elements"])
    ]
    yield "reception", _below(received, "rf_channels", ("element",))
    yield "reception by round", _below(received, "by_round", ("element",))
    yield "reception pairs", (flat(pair) for pair in document["reception"]["pairs"])
    yield "looks", (flat(look) for look in document["looks"]["schedule"])
    yield "looks taken", (flat(look) for look in document["looks"]["taken"])
    yield "conductor loss", (flat(pair) for pair in (document["conductor_loss"] or {}).get("pairs", ()))
    yield "left out", _left_out(document["read_as"])
    yield "struck runs", (flat(run) for run in document["struck"]["runs"])
    yield "changes", _changes(document["history"])
    yield "batches", (flat(batch) for batch in (document["history"] or {}).get("batches", ()))
    yield "cautions", (flat(caution, without=("evidence",)) for caution in document["cautions"])


def _facts(document: doc.Document) -> Iterator[tuple[str, Cell]]:
    trial, verdict = document["trial"], document["verdict"]
    yield "title", trial["title"]
    yield from flat(document["provenance"]).items()
    yield from flat(verdict, without=("leading", "statement", "reception_statement")).items()
    yield from ((f"meter_{name}", value) for name, value in flat(trial["meter"]).items())
    yield from ((name, trial[name]) for name in OF_TRIAL)
    yield "site", site_of(trial) or None
    yield "taken_by", trial["taken_by"]
    for part in ("repeatability", "drift", "all_equal", "one_scan", "struck", "method"):
        yield from ((f"{part}_{name}", value) for name, value in flat(document[part] or {}).items())
    read = document["read_as"]
    yield from ((f"read_{name}", value) for name, value in flat(read, without=("columns", "notes")).items())
    yield "what_the_unit_is_not", speech_of(document).unit.is_not


def _sentences(document: doc.Document) -> Iterator[Row]:
    speech, verdict = speech_of(document), document["verdict"]
    said = {
        "verdict": [verdict["statement"]],
        "why": [reason["message"] for reason in verdict["reasons"]],
        "rule": [rule.sentence(speech)],
        "reception": [verdict["reception_statement"]],
        "one scan": [document["one_scan"]["statement"]] if document["one_scan"] else [],
        "what it does not show": limits.sentences(speech),
        "what to do next": next_steps.sentences(speech),
    }
    for about, texts in said.items():
        yield from ({"about": about, "sentence": text} for text in texts)


def _elements(document: doc.Document) -> Iterator[Row]:
    """Each element as it came out, and as the trial describes it."""
    given = {entry["id"]: entry for entry in document["trial"]["elements"]}
    for entry in document["elements"]:
        stated = {name: value for name, value in given[entry["id"]].items() if name not in entry}
        yield flat(entry) | flat(stated)


def _rounds(document: doc.Document) -> Iterator[Row]:
    for entry in document["elements"]:
        yield from ({"element": entry["id"], **flat(score)} for score in entry["round_scores"])


def _below(entries: Iterable[doc.Entry], part: str, kept: Sequence[str]) -> Iterator[Row]:
    """The rows below each entry, each beginning with what the entry says of itself."""
    for entry in entries:
        head = {name: cell for name, cell in flat(entry).items() if name in kept}
        yield from (head | flat(one) for one in entry[part])


def _as(name: str, entries: Iterable[doc.Entry]) -> list[doc.Entry]:
    """The entries, each naming what it is of by `name` instead of by `id`."""
    return [{name: entry["id"]} | {key: entry[key] for key in entry if key != "id"} for entry in entries]


def _left_out(read: doc.Entry) -> Iterator[Row]:
    for entry in (*(read.get("left_out") or ()), *(read.get("channels_left_out") or ())):
        yield {"channel": entry.get("channel"), "rf_channel": entry.get("rf_channel"), "why": entry["why"]}


def _changes(history: doc.Entry | None) -> Iterator[Row]:
    """One row for each field that a change touched."""
    for change in (history or {}).get("changes", ()):
        before, after = flat(change["before"]), flat(change["after"])
        head = {name: change[name] for name in ("number", "at", "reason")}
        for name in dict.fromkeys((*before, *after)):
            yield head | {"field": name, "before": before.get(name), "after": after.get(name)}
