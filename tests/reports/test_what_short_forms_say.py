"""What tables, summary and terminal say of the reporting list, in every situation.

Which numbers each of them leaves out, and why, stands in `test_what_every_form_says`.
"""

import pytest

from reports.wording import next_steps
from reports.wording.speech import speech_of
from tests.reports.read_forms import document_of, missing
from tests.reports.sample_situations import SITUATIONS, Document


def csv_facts(document: Document) -> list[str]:
    trial, found, made = document["trial"], document["provenance"], document["method"]
    facts = {
        "title": trial["title"],
        "report_id": found["report_id"],
        "readings_sha256": found["readings_sha256"],
        "first_at": found["first_at"],
        "last_at": found["last_at"],
        "runs_planned": found["runs"]["planned"],
        "runs_done": found["runs"]["done"],
        "runs_left_out": found["runs"]["left_out"],
        "site": f'"{trial["site"]}"',
        "taken_by": trial["taken_by"],
        "meter_unit": "bars",
        "meter_highest": 10,
        "meter_resolution": 1,
        "margin": trial["margin"],
        "confidence": trial["confidence"],
        "planned_rounds": 6,
        "looks": "every round",
        "seed": 1,
        "method_version": made["version"],
        "read_media_type": "text/csv",
        "read_channels": 36,
        "read_rf_channels": 24,
    }
    return [f"facts,{name},{value}," for name, value in facts.items()]


@pytest.mark.parametrize("situation", SITUATIONS)
def test_the_tables_say_what_is_data(situation):
    """Numbers 1 to 9, 11 and 13 to 15 as facts and rows; 12 as a sentence."""
    document = document_of(situation)
    wanted = csv_facts(document)
    wanted += [f"elements,{entry['id']}," for entry in document["elements"]]
    wanted += [f"cautions,{entry['code']},{entry['severity']}," for entry in document["cautions"]]
    wanted += [
        "pairs,first,second,difference,",
        "sentences,rule,",
        "not a decibel",
    ]
    wanted += ["sentences,what it does not show,", "sentences,what to do next,"]
    if document["repeatability"] and document["repeatability"]["sd"] is not None:
        wanted.append(f"facts,repeatability_sd,{document['repeatability']['sd']!r},")
    if document["history"]:
        wanted += ["changes,1,2026-05-13T09:00:00Z,the meter was finer than thought,margin,0.5,0.4"]
        wanted += ["batches,2,2026-05-12T10:00:00Z,withdrawal,0,wrong meter,1"]
    assert missing(situation, "csv", *wanted) == []


@pytest.mark.parametrize("situation", SITUATIONS)
def test_the_summary_says_what_was_tested_what_came_out_and_what_next(situation):
    document = document_of(situation)
    verdict = document["verdict"]
    wanted = ["Quayside whip trial (invented)", "read in bars", f"Outcome: {verdict['outcome']}.", "Next: "]
    if verdict["outcome"] != "needs more runs":
        wanted.append("at most 5 of 100 such trials")
    else:
        wanted.append("chance alone can")
    assert missing(situation, "summary", *wanted) == []


@pytest.mark.parametrize("situation", SITUATIONS)
def test_the_terminal_says_the_statement_the_ranking_and_what_next(situation):
    document = document_of(situation)
    speech = speech_of(document)
    wanted = [document["verdict"]["statement"], document["verdict"]["reception_statement"], "(bars)"]
    wanted += next_steps.sentences(speech)
    assert missing(situation, "terminal", *wanted) == []
