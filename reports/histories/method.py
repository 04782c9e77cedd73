"""How a history was made: for those who want to know, and for doing it again."""

from collections.abc import Mapping
from typing import Final

from reports import document as doc
from reports import numerals
from reports.dates import day
from reports.findings import stated
from reports.findings.finding import MOST_ROWS
from reports.language import marked, say
from reports.view.closing import versions
from reports.view.model import Fact, FactList, Section
from reports.view.tables import table
from reports.wording.vocabulary import LOOKS

_METHODS: Final[Mapping[str, str]] = {
    "least squares over trial means, the wider of the intervals between and within trials": marked(
        "least squares over trial means, the wider of the intervals between and within trials"
    )
}
_DECIDES: Final[Mapping[str, str]] = {
    "change over the span of the dates": marked("change over the span of the dates")
}


def method(document: doc.Document) -> Section:
    """The section; KeyError for a way of computing that has no words."""
    left = document["rf_channels"]["left_out"]
    days = [day(point["date"]) for point in document["points"]]
    rows = [[doc.clean(one["rf_channel"]), days[one["trial"]], stated.why_left_out(one)] for one in left]
    headings = ((say("RF channel"), "name"), (say("trial of"), "words"), (say("why"), "words"))
    shown = table(say("Signals left out"), headings, rows, most=MOST_ROWS)
    return Section(
        "method", say("Method"), facts=(FactList(_facts(document)),), tables=(shown,) if rows else ()
    )


def _facts(document: doc.Document) -> tuple[Fact, ...]:
    made, level = document["method"], numerals.per_cent(document["confidence"])
    return (
        Fact(say("History id"), doc.clean(document["history_id"])),
        Fact(say("Method"), say(_METHODS[made["name"]])),
        Fact(say("What decides"), say(_DECIDES[made["decides"]])),
        Fact(say("Confidence"), stated.taken_from(level, document["confidence_from"])),
        stated.margin(document),
        Fact(say("Looks"), say(LOOKS[made["looks"]])),
        Fact(say("Through"), doc.clean(document["reference_label"])),
        stated.signals(document),
        Fact(say("Program"), _program(made)),
    )


def _program(made: doc.Entry) -> str:
    return say("version {version}; {libraries}", version=doc.clean(made["version"]), libraries=versions(made))
