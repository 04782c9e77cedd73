"""The first page: the answer in plain words."""

from dataclasses import replace

from reports.language import say
from reports.view import ranking
from reports.view.model import Answer, Bounds, Draw, OneScan
from reports.view.one_scan import YOURS
from reports.view.ranking_table import ranking_table
from reports.wording import level, limits, next_steps, rule
from reports.wording.speech import Speech
from reports.wording.vocabulary import OUTCOMES

FIRST_PAGE_ROWS = 8


def answer(speech: Speech, draw: Draw, bounds: Bounds) -> Answer:
    """The verdict, its rule, level and reception, the ranking, the limits and the next steps."""
    few = replace(bounds, rows=FIRST_PAGE_ROWS, picture_rows=FIRST_PAGE_ROWS)
    verdict = speech.verdict
    return Answer(
        outcome=say(OUTCOMES[verdict["outcome"]]),
        statement=verdict["statement"],
        reasons=tuple(entry["message"] for entry in verdict["reasons"]),
        rule=rule.sentence(speech),
        findings=(f"{level.sentence(speech)} {rule.margin_note(speech)}", verdict["reception_statement"]),
        one_scan=_one_scan(speech),
        figures=ranking.figure(speech, draw, few),
        tables=(ranking_table(speech, few),),
        limits=tuple(limits.sentences(speech)),
        steps=tuple(next_steps.sentences(speech)),
    )


def _one_scan(speech: Speech) -> tuple[OneScan, ...]:
    scan = speech.document["one_scan"]
    if scan is None:
        return ()
    return (OneScan(say(YOURS[scan["of"]]), scan["statement"]),)
