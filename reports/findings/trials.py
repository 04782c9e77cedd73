"""The trials that a finding rests on: what was run, when, on what, and how it was read."""

from collections.abc import Iterator, Mapping
from typing import Final

from reports import document as doc
from reports import numerals
from reports.dates import day, scanned
from reports.findings.finding import MOST_ROWS
from reports.language import marked, say, say_as
from reports.view.model import Fact, FactList, Section, Table
from reports.view.tables import table
from reports.wording.safety import site_of
from reports.wording.vocabulary import FORMS, UNITS

_SIZES: Final[Mapping[str, str]] = {
    "diameter_mm": marked("diameter {size} mm"),
    "length_mm": marked("length {size} mm"),
}
_ROLES: Final[Mapping[str, str]] = {
    "twin_of": marked("twin of {element}"),
    "pad_of": marked("pad of {element}"),
}


def trial_section(trial: doc.Entry, place: int, *, title: str, elements: str) -> Section:
    """One trial, the `place`-th; `elements` is the caption over what was run in it, which tells it apart."""
    facts = (*_told(trial), *_run(trial), *_measured(trial["trial"]), *_readings(trial))
    return Section(
        f"trial-{place}", title, facts=(FactList(facts),), tables=(_elements(trial["trial"], elements),)
    )


def _told(trial: doc.Entry) -> Iterator[Fact]:
    yield Fact(say("Title"), doc.clean(trial["title"] or "") or say_as("title", "not given"))
    if trial["id"] is not None:
        yield Fact(say("Kept as"), doc.clean(trial["id"]))


def _run(trial: doc.Entry) -> Iterator[Fact]:
    found = trial["provenance"]
    runs = say("{done} done, {planned} planned, {left_out} left out", **found["runs"])
    rounds = {"done": trial["rounds_done"], "planned": trial["trial"]["planned_rounds"]}
    yield Fact(say("Scans"), scanned(found))
    yield Fact(say("Runs"), runs)
    yield Fact(say("Rounds"), say("{done} done, {planned} planned", **rounds))


def _measured(stated: doc.Entry) -> Iterator[Fact]:
    unit = UNITS[stated["meter"]["unit"]]
    yield Fact(say("Unit"), f"{unit.name}. {unit.is_not}")
    yield Fact(say("Scale"), _scale(stated["meter"]))
    yield Fact(say("Site"), site_of(stated) or say_as("site", "not given"))
    yield Fact(say("Taken by"), doc.clean(stated["taken_by"] or "") or say_as("person", "not given"))


def _readings(trial: doc.Entry) -> Iterator[Fact]:
    read = trial["read_as"]
    media, rows = doc.clean(read.get("media_type") or ""), read.get("rows") or 0
    yield from _changes(trial["history"])
    yield Fact(say("Read as"), say("{media_type}, {rows} rows", media_type=media, rows=rows))
    yield Fact(say("SHA-256 of the readings"), doc.clean(trial["provenance"]["readings_sha256"]))


def _scale(meter: doc.Entry) -> str:
    lowest, highest = (
        say_as("end of a scale", "open") if meter[end] is None else numerals.plain(meter[end])
        for end in ("lowest", "highest")
    )
    step = say("not stated") if meter["resolution"] is None else numerals.plain(meter["resolution"])
    return say("{lowest} to {highest}, step {step}", lowest=lowest, highest=highest, step=step)


def _changes(history: doc.Entry | None) -> Iterator[Fact]:
    for change in (history or {"changes": ()})["changes"]:
        yield Fact(say("Plan changed"), f"{day(change['at'])}: {doc.clean(change['reason'])}")


def _elements(stated: doc.Entry, caption: str) -> Table:
    headings = [
        (say("id"), "name"),
        (say_as("of an element", "label"), "words"),
        (say("material"), "words"),
        (say("geometry"), "words"),
        (say("condition"), "words"),
        (say("role"), "words"),
        (say("cost"), "words"),
    ]
    rows = [_element(entry) for entry in stated["elements"]]
    return table(caption, headings, rows, most=MOST_ROWS)


def _element(entry: doc.Entry) -> list[str]:
    cost = entry.get("cost")
    return [
        doc.clean(entry["id"]),
        doc.clean(entry.get("label") or ""),
        _material(entry),
        ", ".join(_geometry(entry)),
        doc.clean(entry.get("condition") or ""),
        _role(entry),
        f"{numerals.plain(cost['amount'])} {doc.clean(cost['currency'])}" if cost else "",
    ]


def _material(entry: doc.Entry) -> str:
    """Material and form: "brass rod"."""
    form = entry.get("form")
    parts = (entry.get("material"), say(FORMS[form]) if form else "")
    return doc.clean(" ".join(part for part in parts if part))


def _geometry(entry: doc.Entry) -> Iterator[str]:
    for key, message in _SIZES.items():
        if entry.get(key) is not None:
            yield say(message, size=numerals.plain(entry[key]))
    gauge = entry.get("gauge")
    if gauge:
        yield say(
            "gauge {number} {table}", number=gauge["number"], table=doc.clean(gauge.get("table") or "")
        ).strip()


def _role(entry: doc.Entry) -> str:
    """Of which element it is a twin or a pad; "" for one that competes."""
    of = next((key for key in _ROLES if entry.get(key)), None)
    return "" if of is None else say(_ROLES[of], element=doc.clean(entry[of]))
