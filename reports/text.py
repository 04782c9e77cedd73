"""A verdict for a terminal: plain lines, no colour, signs that every terminal has."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.document import Document
from reports.language import say
from reports.view import ranking
from reports.wording import next_steps
from reports.wording.cautions import phrase
from reports.wording.speech import Speech, speech_of

_PLAIN: Final = str.maketrans(
    {
        numerals.MINUS: "-",
        numerals.DASH: "-",
        numerals.NARROW_SPACE: " ",
        doc.FIRST_STRONG_ISOLATE: None,
        doc.POP_ISOLATE: None,
        "\N{LEFT DOUBLE QUOTATION MARK}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
    }
)
_IN_THE_SENTENCE: Final = frozenset({"settled", "not-told-apart", "too-few-rounds", "nothing-to-compare"})
"""Reasons that add nothing to the sentence of the verdict, for somebody who reads no more than this."""


def terminal_lines(document: Document) -> tuple[str, ...]:
    """The sentence with its reasons, what one scan is worth, the ranking, what to do next, the cautions.

    The sentence comes first and by itself; an empty line stands between parts.
    """
    speech = speech_of(document)
    steps = [f"{place}. {step}" for place, step in enumerate(next_steps.sentences(speech), start=1)]
    lines = [
        speech.verdict["statement"],
        *_reasons(speech),
        *_one_scan(speech),
        *("", _heading(speech), *_ranking(speech)),
        *("", speech.verdict["reception_statement"]),
        *("", say("What to do next"), *steps),
        *_cautions(speech),
    ]
    return tuple(plain(line) for line in lines)


def plain(line: str) -> str:
    """The line in signs that every terminal has."""
    return line.translate(_PLAIN)


def _reasons(speech: Speech) -> list[str]:
    told = [entry for entry in speech.verdict["reasons"] if entry["code"] not in _IN_THE_SENTENCE]
    return [entry["message"] for entry in told]


def _cautions(speech: Speech) -> list[str]:
    told = [entry for entry in speech.document["cautions"] if entry["severity"] != "note"]
    if not told:
        return []
    called = "; ".join(phrase(entry["code"]) for entry in told)
    return ["", say("Cautions, each in full in a report: {cautions}.", cautions=called)]


def _one_scan(speech: Speech) -> list[str]:
    scan = speech.document["one_scan"]
    return ["", scan["statement"]] if scan else []


def _heading(speech: Speech) -> str:
    level = numerals.per_cent(speech.trial["confidence"])
    bounded = any(entry["score_interval"] for entry in speech.document["elements"])
    unit = speech.unit.level
    if not bounded:
        return say("Ranking by average reading ({unit}); no intervals can be given yet", unit=unit)
    return say(
        "Ranking by average reading ({unit}); distances with {level} intervals", unit=unit, level=level
    )


def _ranking(speech: Speech) -> list[str]:
    rows = [_row(speech, entry) for entry in doc.in_order(speech.document)]
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    return [
        f"{row[0]:>{widths[0]}} {row[1]:<{widths[1]}}  {row[2]:>{widths[2]}}  {row[3]}".rstrip()
        for row in rows
    ]


def _row(speech: Speech, entry: doc.Entry) -> tuple[str, str, str, str]:
    place = f"{entry['place']}." if entry["place"] is not None else "-"
    behind = ranking.behind(speech, entry)
    said = ranking.standing(speech, entry)
    if behind and entry["role"] == "competes" and entry["standing"] == "behind the leader":
        said = say("{standing}, by {distance}", standing=said, distance=behind)
    elif behind and entry["role"] == "competes":
        said = say("{standing}, behind by {distance}", standing=said, distance=behind)
    return place, speech.label(entry["id"]), ranking.score(speech, entry["score"]) or "-", said
