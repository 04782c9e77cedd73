"""Method, provenance and safety: the last parts of a report."""

from reports import document as doc
from reports.language import say
from reports.view.model import Fact, FactList, Listing, Section
from reports.wording import method as method_words
from reports.wording.safety import SAFETY
from reports.wording.speech import Speech


def method(speech: Speech) -> Section:
    """The method in ten lines, with seed and versions."""
    found = speech.document["method"]
    return Section(
        anchor="method",
        title=say("Method"),
        lists=(Listing(tuple(method_words.lines(speech))),),
        remarks=(
            say(
                "Program version {version}; seed {seed}; {versions}.",
                version=doc.clean(found["version"]),
                seed=found["seed"],
                versions=versions(found),
            ),
        ),
    )


def versions(method: doc.Entry) -> str:
    """The libraries that computed, with their versions."""
    return ", ".join(f"{doc.clean(name)} {doc.clean(number)}" for name, number in method["versions"].items())


def provenance(speech: Speech, dates: tuple[str, str]) -> Section:
    """Report id, dates, hash, and how to reach the same result again."""
    found, scanned, issued = speech.document["provenance"], *dates
    facts = (
        Fact(say("Report id"), doc.clean(found["report_id"])),
        Fact(say("Scans"), scanned),
        Fact(say("Issued"), issued),
        Fact(say("SHA-256 of the readings"), doc.clean(found["readings_sha256"])),
        Fact(
            say("To reach it again"),
            say(
                "Give the same readings and the same trial document (the JSON form of this report holds it) "
                "to the same program version, with the same seed. With the same library versions the bytes "
                "are the same; otherwise the outcomes and counts are."
            ),
        ),
    )
    return Section(anchor="provenance", title=say("Provenance"), facts=(FactList(facts),))


def safety() -> Section:
    """Cautions about people."""
    return Section(anchor="safety", title=say("Safety"), lists=(Listing(tuple(map(say, SAFETY))),))
