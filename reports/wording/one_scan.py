"""What one scan is worth: the person's own totals, and one sentence they may say aloud about them."""

from reports import document as doc
from reports import numerals
from reports.language import marked, say, say_number
from reports.wording.speech import Speech, sentences

_TOTAL = {"score": marked("score"), "total": marked("total")}
_TOTALS = {"score": marked("scores"), "total": marked("totals")}


def statement(speech: Speech) -> str:
    """One sentence for a trial of a single round; the numbers behind it stand in `facts`."""
    scan = speech.document["one_scan"]
    if scan["span"] is None:
        return say("One scan gives nothing to compare: there are no two totals.")
    if scan["span"] == 0:
        return say(
            "In one scan all {elements} came to the same {total}; another scan may part them.",
            elements=speech.things.many,
            total=say(_TOTAL[scan["of"]]),
        )
    return say("In one scan {ahead}, {worth}", ahead=_came_out(speech, scan), worth=_worth(speech, scan))


def _came_out(speech: Speech, scan: doc.Entry) -> str:
    known = [entry for entry in scan["totals"] if entry["value"] is not None]
    most = max(entry["value"] for entry in known)
    best = [entry["element"] for entry in known if most - entry["value"] <= 1e-9 * max(1.0, abs(most))]
    if not any(entry["id"] in best for entry in doc.competing(speech.document) if entry["rank"] == 1):
        return say(  # channels that share a signal count once each in a total, and together in the ranking
            "the highest total over all channels, {span} above the last, is that of {elements}",
            span=span(speech),
            elements=speech.names(best),
        )
    if len(best) > 1:
        return say(
            "{elements} came out level, {span} above the last",
            elements=speech.names(best),
            span=span(speech),
        )
    return say("{element} came out {span} above the last", element=speech.name(best[0]), span=span(speech))


def _worth(speech: Speech, scan: doc.Entry) -> str:
    if scan["known_sd"] is not None:
        return say("and what that is worth the verdict says, by a noise known beforehand.")
    return say(
        "but equal {elements} lie that far apart on average if a {total} moves by {spread} each time "
        "{repeated}.",
        elements=speech.things.many,
        total=say(_TOTAL[scan["of"]]),
        spread=spread(speech, scan["break_even_sd"]),
        repeated=speech.things.repeated,
    )


def span(speech: Speech) -> str:
    """The distance from the best total to the last, with its unit."""
    return total(speech, speech.document["one_scan"]["span"])


def total(speech: Speech, value: float) -> str:
    """A total, or a difference of two, with its unit: to a tenth of the meter's step."""
    return _of_total(speech, value, numerals.seen(value, doc.resolution(speech.document)))


def spread(speech: Speech, sd: float) -> str:
    """A standard deviation of the totals, with its unit."""
    return _of_total(speech, sd, numerals.two_digits(sd))


def facts(speech: Speech) -> list[str]:
    """What the totals are worth: the span, what equal ones would show, and what that leaves open."""
    scan = speech.document["one_scan"]
    if not scan["span"]:
        return [statement(speech)]
    apart = say(
        "From the best to the last the {totals} lie {span} apart.",
        totals=say(_TOTALS[scan["of"]]),
        span=span(speech),
    )
    return [apart, _alike(speech, scan), _by_itself(speech, scan)]


def _alike(speech: Speech, scan: doc.Entry) -> str:
    number = len(doc.known([entry["value"] for entry in scan["totals"]]))
    return say(
        "{elements} that are all alike lie, in one scan, on average {times} times as far apart as one "
        "{total} moves by itself (its standard deviation), and in 1 scan of 20 more than {most} times.",
        elements=speech.compared(number),
        times=numerals.two_digits(scan["span_expected_per_sd"]),
        total=say(_TOTAL[scan["of"]]),
        most=numerals.two_digits(scan["span_by_chance_95"]),
    )


def _by_itself(speech: Speech, scan: doc.Entry) -> str:
    if scan["known_sd"] is None:
        return say(
            "One scan does not say how much a {total} moves by itself; a short remount test does.",
            total=say(_TOTAL[scan["of"]]),
        )
    return say(
        "Here it is known how much an average reading moves by itself: by a standard deviation of {sd}.",
        sd=speech.measured(numerals.two_digits(scan["known_sd"])),
    )


def remount_test(speech: Speech) -> str:
    """The short test that would tell, as an order; "" where the document holds none."""
    scan = speech.document["one_scan"]
    test = scan["remount_test"]
    if test is None:
        return ""
    more_than_chance = say(
        "Only if the {totals} then have a standard deviation (STDEV in a spreadsheet) under {spread} is the "
        "span of this scan more than chance.",
        totals=say(_TOTALS[scan["of"]]),
        spread=spread(speech, test["sd_below"]),
    )
    return sentences(_short_test(speech, test), more_than_chance)


def _short_test(speech: Speech, test: doc.Entry) -> str:
    again = speech.things.again.format(name=speech.name(test["element"]))
    remounts = numerals.count(test["remounts"])
    if not test["minutes"]:
        return say(
            "The short test: {again}, {number} times, with one scan each time.", again=again, number=remounts
        )
    return say(
        "The short test: {again}, {number} times, with one scan each time, {time} in all.",
        again=again,
        number=remounts,
        time=numerals.duration(test["minutes"] / 60),
    )


def verdict_needs(speech: Speech) -> str:
    """The fewest rounds for any verdict and their time; "" where no number would do, or this one does."""
    scan = speech.document["one_scan"]
    if scan["fewest_rounds"] is None or scan["fewest_rounds"] <= speech.verdict["rounds_done"]:
        return ""
    hours = scan["hours"] and scan["hours"]["fewest_rounds"]
    time = say(" ({time} with this one)", time=numerals.duration(hours)) if hours else ""
    return say(
        "No verdict is possible with fewer than {fewest}{time}; the plan is {planned}.",
        fewest=speech.rounds(scan["fewest_rounds"]),
        time=time,
        planned=speech.rounds(speech.trial["planned_rounds"]),
    )


def _of_total(speech: Speech, value: float, number: str) -> str:
    if speech.document["one_scan"]["of"] == "score":
        return speech.measured(number)
    return say_number("{number} point", "{number} points", 1 if number == "1" else value, number=number)
