"""The reporting list, number by number, in every situation and on every form that carries text.

After the reporting lists of ISO/IEC 17025 7.8, GUM 7.2.6 and ISO 5725-6 (from memory and secondary copies).
What a form leaves out on purpose, and why:

- Markdown is part of a job's page: it has no page numbers of its own.
- CSV is data: numbers are not rounded (10), a table has neither pages nor an end mark (1), and how a p was
  made stands in the column of its method.
- The summary is 60 to 90 words: what was tested, what came out, by how much, how sure, what next (8, 9, 12,
  14), and the title (1); the terminal's lines hold the statement, the ranking with its intervals, reception,
  and what to do next (9, 10, 14).
"""

import re
from collections.abc import Callable

import pytest

from reports import numerals
from reports.wording import cautions, limits, next_steps, rule
from reports.wording.speech import speech_of
from tests.reports import undrawn
from tests.reports.made_once import pages, report
from tests.reports.plain import first_page
from tests.reports.read_forms import document_of, missing, text_of
from tests.reports.sample_situations import SITUATIONS, Document

WHOLE = ("html", "pdf", "markdown")


def title(_document: Document) -> list[str]:
    return ["Quayside whip trial (invented)"]


def identified(document: Document) -> list[str]:
    report = document["provenance"]["report_id"]
    return [report, f"End of report {report}"]


def dated(document: Document) -> list[str]:
    return ["12 to 13 May 2026", "2 June 2026" if "issued_at" in document["provenance"] else "13 May 2026"]


def elements(document: Document) -> list[str]:
    described = ["brass, rod, 3 mm thick, 690 mm long", "one winter outdoors", "4.20 EUR", "3 dB put in"]
    names = [entry["id"] for entry in document["elements"]]
    return [*names, *described, "spare copy of 3 mm brass rod", "3 mm brass rod, weakened on purpose"]


def setting(document: Document) -> list[str]:
    return [document["trial"]["site"], document["trial"]["taken_by"]]


def method(document: Document) -> list[str]:
    made = document["method"]
    return [
        "Unit of replication: the round",
        f"Program version {made['version']}",
        "(RF channels); 24 entered",
    ]


def plan(document: Document) -> list[str]:
    margin = numerals.plain(document["trial"]["margin"])
    changes = (
        ["1 change of the trial, 1 correction or withdrawal", "the margin from 0.5 to 0.4", "wrong meter"]
        if document["history"]
        else ["none is recorded in this document"]
    )
    looks = "6 rounds, as the trial document states; looks: after every round"
    return [looks, f"{margin} bars", "Confidence 95 %", "no seed of an order is known", *changes]


def flow(document: Document) -> list[str]:
    runs = document["provenance"]["runs"]
    done = f"{runs['planned']} planned, {runs['done']} done, {runs['left_out']} left out"
    return [done, "36 channels scanned, merged into 24 signals (RF channels)"]


def unit(_document: Document) -> list[str]:
    return ["scale from 0 to 10; resolution 1 (stated)", "not a decibel"]


def differences(document: Document) -> list[str]:
    if document["verdict"]["rounds_done"] < 2:
        return ["difference (bars)", "Nothing can be given for: interval, 95 %; p; adjusted p"]
    first = document["pairs"][0]
    found, ends = first["difference"], first["interval"]
    width = numerals.half_width(ends["low"], ends["high"])
    row = f"{numerals.signed(found, width)} {numerals.between(ends['low'], ends['high'])} "
    row += f"{numerals.probability(first['p_value'])} {numerals.probability(first['adjusted_p_value'])}"
    return [
        "difference (bars) interval, 95 % p adjusted p outcome",
        row,
        "adjusted for all 15 pairs together",
        "by flipping the signs of its round differences",
        "The level that this look may use is",
    ]


def rounded(_document: Document) -> list[str]:
    return ["rounding at the very end, to the second digit of the uncertainty"]


def repeatability(document: Document) -> list[str]:
    found = document["repeatability"]
    if not found or found["sd"] is None:
        return ["Repeatability", "it needs two rounds at least"]
    return [
        f"{numerals.two_digits(found['sd'])} bars, from this trial",
        f"{numerals.two_digits(found['limit'])} bars: one element, put on twice the same day",
        "Degrees of freedom",
    ]


def decision(document: Document) -> list[str]:
    return [rule.sentence(speech_of(document)), "at most 5 of 100 such trials"]


def cautioned(document: Document) -> list[str]:
    told = [
        word for entry in document["cautions"] for word in (cautions.title(entry["code"]), entry["message"])
    ]
    return [*told, "Spare copy: second brass rod", "Known weakener: brass rod with pad"]


def scope(document: Document) -> list[str]:
    speech = speech_of(document)
    return [*limits.sentences(speech), *next_steps.sentences(speech)]


def replayed(document: Document) -> list[str]:
    found = document["provenance"]["readings_sha256"]
    return [
        found,
        "seed 1",
        "text/csv, long form, utf-8",
        "With the same library versions the bytes are the same",
    ]


NUMBERS: dict[int, tuple[Callable[[Document], list[str]], ...]] = {
    1: (title, identified),
    2: (dated,),
    3: (elements,),
    4: (setting,),
    5: (method,),
    6: (plan,),
    7: (flow,),
    8: (unit,),
    9: (differences,),
    10: (rounded,),
    11: (repeatability,),
    12: (decision,),
    13: (cautioned,),
    14: (scope,),
    15: (replayed,),
}


def test_no_number_of_the_list_is_left_out():
    assert list(NUMBERS) == list(range(1, 16))


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("situation", SITUATIONS)
@pytest.mark.parametrize("form", WHOLE)
def test_a_report_says(form, situation, number):
    wanted = [words for item in NUMBERS[number] for words in item(document_of(situation))]
    assert missing(situation, form, *wanted) == []


@pytest.mark.parametrize("situation", SITUATIONS)
def test_pages_are_numbered_where_there_are_pages(situation):
    read = pages(document_of(situation))
    assert all(f"page {number} of {len(read)}" in text for number, text in enumerate(read, start=1))
    assert "Page 1 of 1" in text_of(situation, "html")


@pytest.mark.parametrize("situation", SITUATIONS)
def test_the_rule_stands_on_the_first_page_under_the_result(situation):
    document = document_of(situation)
    first = {
        "pdf": pages(document)[0],
        "html": first_page(undrawn.page(document)),
        "markdown": report(document, "markdown").decode("utf-8").split("\n### ")[0],
    }
    for text in first.values():
        assert text.index(document["verdict"]["outcome"]) < text.index("The rule: a winner is named only if")


@pytest.mark.parametrize("situation", SITUATIONS)
def test_the_difference_stands_before_its_interval_and_that_before_p(situation):
    for form in WHOLE:
        head = text_of(situation, form).split("difference (bars)", 1)[1]
        if document_of(situation)["verdict"]["rounds_done"] > 1:
            assert head.index("interval") < head.index(" p ")


def test_a_job_summary_is_headed_from_level_three_and_small():
    for situation in SITUATIONS:
        made = report(document_of(situation), "markdown")
        headings = re.findall(r"(?m)^(#+) ", made.decode())
        assert set(headings) <= {"###", "####"}
        assert made.decode().startswith(f"### {document_of(situation)['verdict']['outcome']}: ")
        assert len(made) < 1_000_000
