"""How a design check was made: for those who want to know, and for doing it again."""

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

_LIMITS: Final[Mapping[str, str]] = {
    "sign-flip": marked("sign-flip"),
    "Welch, through the reference": marked("Welch, through the reference"),
    "Banerjee, through the reference": marked("Banerjee, through the reference"),
    "Welch, over samples": marked("Welch, over samples"),
    "Banerjee, over samples": marked("Banerjee, over samples"),
}
_SIDES: Final[Mapping[str, str]] = {"one-sided": marked("one-sided")}
_SEVERAL: Final[Mapping[str, str]] = {"Holm": marked("Holm"), "equal shares": marked("equal shares")}


def method(document: doc.Document) -> Section:
    """The section; KeyError for a way of computing that has no words."""
    left = document["rf_channels"]["left_out"]
    rows = [[doc.clean(one["rf_channel"]), stated.why_left_out(one)] for one in left]
    headings = [(say("RF channel"), "name"), (say("why"), "words")]
    shown = table(say("Signals left out"), headings, rows, most=MOST_ROWS)
    return Section(
        "method",
        say("Method"),
        facts=(FactList((*_facts(document), stated.signals(document), _program(document["method"]))),),
        tables=(shown,) if rows else (),
    )


def _facts(document: doc.Document) -> list[Fact]:
    how = dict.fromkeys(say(_LIMITS[check["method"]]) for check in document["checks"])
    return [
        Fact(say("Check id"), doc.clean(document["check_id"])),
        Fact(say("Limits"), ", ".join(how)),
        Fact(say("Error"), _error(document["method"])),
        stated.margin(document),
        Fact(say("Looks"), _looks(document["method"])),
        *_joined_by(document["reference"]),
        *_kept_as(document["baseline_kept_as"]),
    ]


def _error(made: doc.Entry) -> str:
    return say(
        "{rate}, {sides}, over all candidates ({shares})",
        rate=numerals.per_cent(made["alpha"]),
        sides=say(_SIDES[made["sides"]]),
        shares=say(_SEVERAL[made["several"]]),
    )


def _looks(made: doc.Entry) -> str:
    rounds = numerals.number_of(made["planned_rounds"], "round", "rounds")
    return say("{looks}, {rounds} planned", looks=say(LOOKS[made["looks"]]), rounds=rounds)


def _joined_by(reference: str | None) -> list[Fact]:
    return [] if reference is None else [Fact(say("Joined by"), doc.clean(reference))]


def _kept_as(kept: doc.Entry | None) -> list[Fact]:
    """Name, date and note of a baseline that was asked for by its name."""
    if kept is None:
        return []
    named = say("{name}, of {date}", name=doc.clean(kept["name"]), date=day(kept["date"]))
    told = [named, doc.clean(kept["note"] or "")]
    return [Fact(say("Baseline kept as"), ". ".join(part for part in told if part))]


def _program(made: doc.Entry) -> Fact:
    text = say(
        "version {version}; seed {seed}; {libraries}",
        version=doc.clean(made["version"]),
        seed=made["seed"],
        libraries=versions(made),
    )
    return Fact(say("Program"), text)
