"""The verdict for a terminal."""

import re

from reports.text import terminal_lines
from reports.wording import complete
from tests.reports import sample_documents as samples
from tests.reports.sample_parts import caution
from tests.reports.sample_strangers import hostile_document


def test_the_sentence_stands_alone_on_the_first_line():
    document = complete(samples.two_elements())
    assert terminal_lines(document)[0].startswith("3 mm brass rod is better than")


def test_ranking_reception_and_next_steps_follow():
    lines = terminal_lines(complete(samples.six_elements()))
    assert lines[1:4] == (
        "",
        "Ranking by average reading (bars); distances with 95 % intervals",
        "1. 3 mm brass rod          5.45  leads",
    )
    assert "2. zinc-coated steel wire  4.91  behind the leader, by 0.54 (0.22 to 0.87)" in lines
    assert " - second brass rod        5.47  spare copy of 3 mm brass rod" in lines
    assert "Reception: every signal came in with all 4 elements in every round." in lines
    assert "What to do next" in lines
    assert lines[-1] == "3. Only to tell the others apart as well: about 3 more rounds."


def test_why_one_was_not_judged_and_which_cautions_there_are_is_told():
    document = samples.six_elements()
    evidence = {"elements": [document["elements"][0]["id"]]}
    document["verdict"]["reasons"].append({"code": "not-judged", "message": None, "evidence": evidence})
    document["cautions"].append(caution("rf-channel-unknown", "warning", channels=["x"]))
    lines = terminal_lines(complete(document))
    assert lines[1].startswith("Not judged, for want of runs that can be compared with the others: 3 mm")
    assert "The rule was met" not in " ".join(lines)
    assert lines[-1] == "Cautions, each in full in a report: RF channel unknown."


def test_one_scan_says_what_it_is_worth():
    lines = terminal_lines(complete(samples.one_round()))
    assert lines[2].startswith("In one scan 3 mm brass rod came out")


def test_only_signs_that_every_terminal_has(sample_name):
    from tests.reports.conftest import MAKERS

    text = "\n".join(terminal_lines(complete(MAKERS[sample_name]())))
    assert re.findall(r"[^\x20-\x7e\n\u00b5]", text) == []
    assert "None" not in text


def test_names_cannot_steer_the_terminal():
    text = "\n".join(terminal_lines(complete(hostile_document())))
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202e]", text)
