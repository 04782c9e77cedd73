"""What one scan is worth: the person's own totals, and the numbers behind the sentence."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_as
from reports.view.model import Bounds, Fact, FactList, Section, Table
from reports.view.tables import table
from reports.wording import one_scan
from reports.wording.speech import Speech

YOURS = {"total": marked("Your totals:"), "score": marked("Your scores:")}
_YOUR = {"total": marked("your total"), "score": marked("your score")}
_ALL_YOURS = {"total": marked("Your totals of this scan"), "score": marked("Your scores of this scan")}


def sections(speech: Speech, bounds: Bounds) -> tuple[Section, ...]:
    """The part on one scan; nothing where more than one round was done."""
    scan = speech.document["one_scan"]
    if scan is None:
        return ()
    steps = [*one_scan.facts(speech)[1:], one_scan.remount_test(speech), one_scan.verdict_needs(speech)]
    return (
        Section(
            anchor="one-scan",
            title=say("What one scan is worth"),
            paragraphs=(scan["statement"],),
            facts=(FactList(_facts(speech, scan)),) if scan["span"] else (),
            tables=(_totals(speech, scan, bounds),),
            remarks=tuple(sentence for sentence in steps if sentence),
        ),
    )


def _facts(speech: Speech, scan: doc.Entry) -> tuple[Fact, ...]:
    number = len(doc.known([entry["value"] for entry in scan["totals"]]))
    expected, chance = scan["span_expected_per_sd"], scan["span_by_chance_95"]
    spread = one_scan.spread(speech, scan["break_even_sd"])
    fewest = scan["fewest_rounds"]
    return (
        Fact(say("Span, best to last"), one_scan.span(speech)),
        Fact(
            say("Break-even spread"),
            say("{spread} (standard deviation of one remounting)", spread=spread),
        ),
        Fact(
            say("Span of {number} equal {things}", number=numerals.count(number), things=speech.things.many),
            say(
                "{average} standard deviations on average; over {seldom} in 1 scan of 20",
                average=numerals.fixed(expected, 2),
                seldom=numerals.fixed(chance, 2),
            ),
        ),
        Fact(
            say("Fewest rounds for a verdict"),
            numerals.count(fewest) if fewest else say_as("number of rounds", "none known"),
        ),
    )


def _totals(speech: Speech, scan: doc.Entry, bounds: Bounds) -> Table:
    ordered = sorted(scan["totals"], key=lambda entry: (entry["value"] is None, -(entry["value"] or 0.0)))
    top, step = ordered[0]["value"] if ordered else None, doc.resolution(speech.document)
    rows = [
        [
            speech.label(entry["element"]),
            numerals.seen(entry["value"], step),
            numerals.seen(top - entry["value"], step)
            if entry["value"] is not None and top is not None
            else "",
        ]
        for entry in ordered
    ]
    headings = [
        (speech.things.one, "name"),
        (say(_YOUR[scan["of"]]), "number"),
        (say("behind the first by"), "number"),
    ]
    return table(say(_ALL_YOURS[scan["of"]]), headings, rows, most=bounds.rows, kind="stacked")
