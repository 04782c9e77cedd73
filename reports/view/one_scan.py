"""What one scan is worth: the person's own totals, and the numbers behind the sentence."""

from reports import document as doc
from reports import numerals
from reports.view.model import Bounds, Fact, FactList, Section, Table
from reports.view.tables import table
from reports.wording import one_scan
from reports.wording.speech import Speech


def sections(speech: Speech, bounds: Bounds) -> tuple[Section, ...]:
    """The part on one scan; nothing where more than one round was done."""
    scan = speech.document["one_scan"]
    if scan is None:
        return ()
    steps = [*one_scan.facts(speech)[1:], one_scan.remount_test(speech), one_scan.verdict_needs(speech)]
    return (
        Section(
            anchor="one-scan",
            title="What one scan is worth",
            paragraphs=(scan["statement"],),
            facts=(FactList(_facts(speech, scan)),) if scan["span"] else (),
            tables=(_totals(speech, scan, bounds),),
            remarks=tuple(sentence for sentence in steps if sentence),
        ),
    )


def _facts(speech: Speech, scan: doc.Entry) -> tuple[Fact, ...]:
    number = len(doc.known([entry["value"] for entry in scan["totals"]]))
    expected, chance = scan["span_expected_per_sd"], scan["span_by_chance_95"]
    return (
        Fact("Span, best to last", one_scan.span(speech)),
        Fact(
            "Break-even spread",
            f"{one_scan.spread(speech, scan['break_even_sd'])} (standard deviation of one remounting)",
        ),
        Fact(
            f"Span of {numerals.count(number)} equal {speech.things.many}",
            (
                f"{numerals.fixed(expected, 2)} standard deviations on average; over "
                f"{numerals.fixed(chance, 2)} in 1 scan of 20"
            ),
        ),
        Fact(
            "Fewest rounds for a verdict",
            numerals.count(scan["fewest_rounds"]) if scan["fewest_rounds"] else "none known",
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
        (f"your {scan['of']}", "number"),
        ("behind the first by", "number"),
    ]
    return table(f"Your {scan['of']}s of this scan", headings, rows, most=bounds.rows, kind="stacked")
