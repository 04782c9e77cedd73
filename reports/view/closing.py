"""Method, how the file was understood, provenance and safety: the last parts of a report."""

from reports import document as doc
from reports import numerals
from reports.view.model import Bounds, Fact, FactList, Listing, Section
from reports.view.tables import table
from reports.wording import method as method_words
from reports.wording.safety import SAFETY
from reports.wording.speech import Speech, listed


def method(speech: Speech) -> Section:
    """The method in ten lines, with seed and versions."""
    found = speech.document["method"]
    versions = ", ".join(
        f"{doc.clean(name)} {doc.clean(number)}" for name, number in found["versions"].items()
    )
    return Section(
        anchor="method",
        title="Method",
        lists=(Listing(tuple(method_words.lines(speech))),),
        remarks=(f"Program version {doc.clean(found['version'])}; seed {found['seed']}; {versions}.",),
    )


def understood(speech: Speech, bounds: Bounds) -> Section:
    """How the readings were understood."""
    read = speech.document["read_as"]
    facts = [
        Fact("File", _file(read)),
        Fact("Found in it", _found(speech, read)),
        Fact("Rounds told by", doc.clean(read.get("rounds_from") or "not known")),
        Fact(
            "Blank cells",
            f"{numerals.count(read.get('blanks_read_as_lost') or 0)} read as “scanned, nothing found”",
        ),
        Fact("Not scanned", numerals.number_of(read.get("not_scanned") or 0, "cell", "cells")),
        *_marks(read),
        Fact("Skipped", _skipped(read)),
    ]
    columns = [
        [doc.clean(column["heading"]), doc.clean(column["read_as"])] for column in read.get("columns") or ()
    ]
    shown = table("Columns", [("heading", "name"), ("read as", "words")], columns, most=bounds.rows)
    return Section(
        anchor="understood",
        title="How the file was understood",
        facts=(FactList(tuple(facts)),),
        tables=(shown,) if columns else (),
    )


def _file(read: doc.Entry) -> str:
    marks = {",": "comma", ";": "semicolon", "\t": "tab"}
    parts = [
        doc.clean(read.get("media_type") or ""),
        f"{doc.clean(read['shape'])} form" if read.get("shape") else "",
        doc.clean(read.get("encoding") or ""),
        "with byte order mark" if read.get("byte_order_mark") else "",
        f"separated by {marks.get(read['delimiter'], doc.clean(read['delimiter']))}"
        if read.get("delimiter")
        else "",
        f"decimal {marks.get(read['decimal_mark'], 'point')}" if read.get("decimal_mark") else "",
        f"sheet {doc.clean(read['sheet'])}" if read.get("sheet") else "",
        f"headings in line {read['header_row']}" if read.get("header_row") is not None else "",
    ]
    return ", ".join(part for part in parts if part)


def _found(speech: Speech, read: doc.Entry) -> str:
    words = {
        "rows": ("row", "rows"),
        "runs": ("run", "runs"),
        "rounds": ("round", "rounds"),
        "elements": (speech.things.one, speech.things.many),
        "channels": ("channel", "channels"),
        "rf_channels": ("RF channel compared", "RF channels compared"),
    }
    return listed([numerals.number_of(read[key], *words[key]) for key in words if read.get(key) is not None])


def _marks(read: doc.Entry) -> list[Fact]:
    marks = read.get("marks") or {}
    if not marks:
        return []
    return [
        Fact(
            "Marks",
            listed([f"“{doc.clean(mark)}” {numerals.count(number)} times" for mark, number in marks.items()]),
        )
    ]


def _skipped(read: doc.Entry) -> str:
    skipped = read.get("skipped") or []
    return listed([f"row {entry['row']} ({doc.clean(entry['why'])})" for entry in skipped]) or "nothing"


def provenance(speech: Speech, dates: tuple[str, str]) -> Section:
    """Report id, dates, hash, and how to reach the same result again."""
    found, scanned, issued = speech.document["provenance"], *dates
    facts = (
        Fact("Report id", doc.clean(found["report_id"])),
        Fact("Scans", scanned),
        Fact("Issued", issued),
        Fact("SHA-256 of the readings", doc.clean(found["readings_sha256"])),
        Fact(
            "To reach it again",
            "Give the same readings and the same trial document (the JSON form of this report holds it) to "
            "the same program version, with the same seed. With the same library versions the bytes are the "
            "same; otherwise the outcomes and counts are.",
        ),
    )
    return Section(anchor="provenance", title="Provenance", facts=(FactList(facts),))


def safety() -> Section:
    """Cautions about people."""
    return Section(anchor="safety", title="Safety", lists=(Listing(SAFETY),))
