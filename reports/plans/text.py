"""A plan as plain text: what a terminal shows."""

from collections.abc import Iterator
from itertools import groupby

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.severities import SEVERITIES, gravest_first
from reports.text import plain
from reports.wording import plan, plan_cautions, plan_notes
from reports.wording.speech import Speech, speech_of


def render(document: doc.Document) -> bytes:
    """What there is to do, the order, what it can detect, what to settle first; in UTF-8."""
    return ("\n".join(plain(line) for line in _lines(speech_of(document))) + "\n").encode("utf-8")


def _lines(speech: Speech) -> Iterator[str]:
    document = speech.document
    yield document["statement"]
    if document["order"]:
        yield from ("", say("The order (seed {seed})", seed=document["seed"]), *_order(speech))
    yield from ("", *_power(speech))
    yield from (f"- {text}" for text in (plan.worthwhile(speech), plan.remount_study(speech)) if text)
    yield from (f"- {text}" for text in plan.shorter(speech))
    yield ""
    for entry in gravest_first(document["cautions"]):
        severity, title = say(SEVERITIES[entry["severity"]]), plan_cautions.title(entry["code"])
        yield f"{severity}: {title}. {plan_notes.shown(speech, entry)}"
    yield from ("", say("Before anybody goes up"), *(f"- {sentence}" for sentence in document["safety"]))


def _order(speech: Speech) -> Iterator[str]:
    for number, runs in groupby(speech.document["order"], key=lambda run: run["round"]):
        names = ", ".join(speech.name(run["element"]) for run in runs)
        yield say("Round {round}: {elements}", round=number, elements=names)


def _power(speech: Speech) -> Iterator[str]:
    """A row for each difference: of 100 trials, how many name the winner by each round."""
    rows = speech.document["power"]
    if not rows or not rows[0]["by_round"]:
        return
    first = next((place for place, _ in enumerate(rows[0]["by_round"]) if _possible(rows, place)), 0)
    shown = rows[0]["by_round"][first:]
    yield say(
        "Of 100 trials so many name the best {thing}, so far ahead of all others, by round",
        thing=speech.things.one,
    )
    names = [numerals.two_digits(row["difference"]) for row in rows]
    head = speech.unit.many if speech.document["noise"]["sd"] is not None else say("run-to-run sd")
    width = max(len(head), *(len(plain(name)) for name in names))
    yield " ".join([f"{head:<{width}}", *(f"{entry['round']:>4}" for entry in shown)])
    for name, row in zip(names, rows, strict=True):
        chances = [numerals.fixed(100 * entry["chance"], 0) for entry in row["by_round"][first:]]
        yield " ".join([f"{name:>{width}}", *(f"{chance:>4}" for chance in chances)])


def _possible(rows: list[doc.Entry], place: int) -> bool:
    return any(row["by_round"][place]["chance"] > 0 for row in rows)
