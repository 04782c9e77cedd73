"""What one scan is worth: the person's own totals, and one sentence they may say aloud about them."""

from reports import document as doc
from reports import numerals
from reports.wording.speech import Speech, sentences


def statement(speech: Speech) -> str:
    """One sentence for a trial of a single round; the numbers behind it stand in `facts`."""
    scan = speech.document["one_scan"]
    if scan["span"] is None:
        return "One scan gives nothing to compare: there are no two totals."
    if scan["span"] == 0:
        return (
            f"In one scan all {speech.things.many} came to the same {scan['of']}; another scan may part them."
        )
    return f"In one scan {_came_out(speech, scan)}, {_worth(speech, scan)}"


def _came_out(speech: Speech, scan: doc.Entry) -> str:
    known = [entry for entry in scan["totals"] if entry["value"] is not None]
    most = max(entry["value"] for entry in known)
    best = [entry["element"] for entry in known if most - entry["value"] <= 1e-9 * max(1.0, abs(most))]
    if len(best) > 1:
        return f"{speech.names(best)} came out level, {span(speech)} above the last"
    return f"{speech.name(best[0])} came out {span(speech)} above the last"


def _worth(speech: Speech, scan: doc.Entry) -> str:
    if scan["known_sd"] is not None:
        return "and what that is worth the verdict says, by a noise known beforehand."
    return (
        f"but equal {speech.things.many} lie that far apart on average if a {scan['of']} moves by "
        f"{spread(speech, scan['break_even_sd'])} each time {speech.things.repeated}."
    )


def span(speech: Speech) -> str:
    """The distance from the best total to the last, with its unit."""
    return total(speech, speech.document["one_scan"]["span"])


def total(speech: Speech, value: float) -> str:
    """A total, or a difference of two, with its unit: to a tenth of the meter's step."""
    return _of_total(speech, numerals.seen(value, doc.resolution(speech.document)))


def spread(speech: Speech, sd: float) -> str:
    """A standard deviation of the totals, with its unit."""
    return _of_total(speech, numerals.two_digits(sd))


def facts(speech: Speech) -> list[str]:
    """What the totals are worth: the span, what equal ones would show, and what that leaves open."""
    scan = speech.document["one_scan"]
    if not scan["span"]:
        return [statement(speech)]
    number = len(doc.known([entry["value"] for entry in scan["totals"]]))
    return [
        f"From the best to the last the {scan['of']}s lie {span(speech)} apart.",
        f"{speech.compared(number)} that are all alike lie, in one scan, on average "
        f"{numerals.two_digits(scan['span_expected_per_sd'])} times as far apart as one {scan['of']} moves "
        "by itself (its standard deviation), and in 1 scan of 20 more than "
        f"{numerals.two_digits(scan['span_by_chance_95'])} times.",
        _by_itself(speech, scan),
    ]


def _by_itself(speech: Speech, scan: doc.Entry) -> str:
    if scan["known_sd"] is None:
        return f"One scan does not say how much a {scan['of']} moves by itself; a short remount test does."
    sd = speech.measured(numerals.two_digits(scan["known_sd"]))
    return f"Here it is known how much an average reading moves by itself: by a standard deviation of {sd}."


def remount_test(speech: Speech) -> str:
    """The short test that would tell, as an order; "" where the document holds none."""
    test = speech.document["one_scan"]["remount_test"]
    if test is None:
        return ""
    time = f", {numerals.duration(test['minutes'] / 60)} in all" if test["minutes"] else ""
    again = speech.things.again.format(name=speech.name(test["element"]))
    return (
        f"The short test: {again}, {numerals.count(test['remounts'])} times, with one scan each time{time}. "
        f"Only if the {speech.document['one_scan']['of']}s then have a standard deviation under "
        f"{spread(speech, test['sd_below'])} is the span of this scan more than chance."
    )


def verdict_needs(speech: Speech) -> str:
    """The fewest rounds for any verdict and their time; "" where no number would do, or this one does."""
    scan = speech.document["one_scan"]
    if scan["fewest_rounds"] is None or scan["fewest_rounds"] <= speech.verdict["rounds_done"]:
        return ""
    hours = scan["hours"] and scan["hours"]["fewest_rounds"]
    time = f" ({numerals.duration(hours)} with this one)" if hours else ""
    return sentences(
        f"No verdict is possible with fewer than {speech.rounds(scan['fewest_rounds'])}{time}; the plan is "
        f"{speech.rounds(speech.trial['planned_rounds'])}."
    )


def _of_total(speech: Speech, number: str) -> str:
    if speech.document["one_scan"]["of"] == "score":
        return speech.measured(number)
    return f"{number} {'point' if number == '1' else 'points'}"
