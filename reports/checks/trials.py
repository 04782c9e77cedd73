"""The trials that a design check rests on: what was run, when, on what, and how it was read."""

from reports import document as doc
from reports import numerals
from reports.dates import day, scanned
from reports.view.model import Fact, FactList, Section, Table
from reports.view.tables import table
from reports.wording.safety import without_position
from reports.wording.vocabulary import UNITS

MOST_ROWS = 64


def trial_section(trial: doc.Entry, role: str, place: int) -> Section:
    """One trial."""
    stated, found, read = trial["trial"], trial["provenance"], trial["read_as"]
    unit, runs = UNITS[stated["meter"]["unit"]], found["runs"]
    title = doc.clean(trial["title"] or "")
    facts = [
        Fact("Title", title or "not given"),
        *([] if trial["id"] is None else [Fact("Kept as", doc.clean(trial["id"]))]),
        Fact("Scans", scanned(found)),
        Fact("Runs", f"{runs['done']} done, {runs['planned']} planned, {runs['left_out']} left out"),
        Fact("Rounds", f"{trial['rounds_done']} done, {stated['planned_rounds']} planned"),
        Fact("Unit", f"{unit.name}. {unit.is_not}"),
        Fact("Scale", _scale(stated["meter"])),
        Fact("Site", without_position(doc.clean(stated["site"] or "")) or "not given"),
        Fact("Taken by", doc.clean(stated["taken_by"] or "") or "not given"),
        *_changes(trial["history"]),
        Fact("Read as", f"{doc.clean(read.get('media_type') or '')}, {read.get('rows') or 0} rows"),
        Fact("SHA-256 of the readings", doc.clean(found["readings_sha256"])),
    ]
    return Section(f"trial-{place}", role, facts=(FactList(tuple(facts)),), tables=(_elements(stated, role),))


def _scale(meter: doc.Entry) -> str:
    ends = [meter["lowest"], meter["highest"]]
    told = ["open" if end is None else numerals.plain(end) for end in ends]
    step = "not stated" if meter["resolution"] is None else numerals.plain(meter["resolution"])
    return f"{told[0]} to {told[1]}, step {step}"


def _changes(history: doc.Entry | None) -> list[Fact]:
    return [
        Fact("Plan changed", f"{day(change['at'])}: {doc.clean(change['reason'])}")
        for change in (history or {"changes": ()})["changes"]
    ]


def _elements(stated: doc.Entry, role: str) -> Table:
    """Its caption names the trial, so that several of them can be told apart."""
    rows = [_element(entry) for entry in stated["elements"]]
    headings = ("id", "name"), ("label", "words"), ("material", "words"), ("geometry", "words")
    more = ("condition", "words"), ("role", "words"), ("cost", "words")
    caption = f"What was run in {role[:1].lower()}{role[1:]}"
    return table(caption, [*headings, *more], rows, most=MOST_ROWS)


def _element(entry: doc.Entry) -> list[str]:
    sizes = [
        f"{name} {numerals.plain(entry[key])} mm"
        for key, name in (("diameter_mm", "diameter"), ("length_mm", "length"))
        if entry.get(key) is not None
    ]
    gauge = entry.get("gauge")
    if gauge:
        sizes.append(f"gauge {gauge['number']} {doc.clean(gauge.get('table') or '')}".strip())
    role = next(
        (
            f"{key.replace('_', ' ')} {doc.clean(entry[key])}"
            for key in ("twin_of", "pad_of")
            if entry.get(key)
        ),
        "",
    )
    cost = entry.get("cost")
    return [
        doc.clean(entry["id"]),
        doc.clean(entry.get("label") or ""),
        doc.clean(" ".join(part for part in (entry.get("material"), entry.get("form")) if part)),
        ", ".join(sizes),
        doc.clean(entry.get("condition") or ""),
        role,
        f"{numerals.plain(cost['amount'])} {doc.clean(cost['currency'])}" if cost else "",
    ]
