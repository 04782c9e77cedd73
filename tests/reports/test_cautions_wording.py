"""Every caution and every reason has words, names its evidence, and says what to do."""

import pytest

from reports.wording import cautions, check_cautions, complete, reasons
from reports.wording.speech import speech_of
from service.analysis.cautions import FINDERS
from tests.reports import sample_documents as samples
from tests.reports.sample_cautions import CAUTIONS


def message(code: str, **changes) -> str:
    _, evidence, _ = CAUTIONS[code]
    return cautions.message(speech_of(samples.six_elements()), code, evidence | changes)


def test_every_caution_that_an_analysis_raises_has_words_and_a_sample_here():
    raised = {finder.__name__.replace("_", "-") for finder in FINDERS}
    assert raised == set(cautions.CAUTIONS) == set(CAUTIONS)


@pytest.mark.parametrize("code", [*CAUTIONS, *check_cautions.TITLES])
def test_a_caution_is_called_the_same_within_a_sentence(code):
    title, phrase = check_cautions.title(code), check_cautions.phrase(code)
    assert phrase[1:] == title[1:]
    assert phrase[0] == (title[0] if title.startswith("RF ") else title[0].lower())


@pytest.mark.parametrize("code", CAUTIONS)
def test_a_message_names_its_evidence(code):
    said = message(code)
    missing = [word for word in CAUTIONS[code][2] if word not in said]
    assert missing == []
    assert said.endswith(".")
    assert "None" not in said
    assert "nan" not in said
    assert "{" not in said


def test_a_caution_without_words_is_an_error_and_not_a_blank():
    document = samples.two_elements()
    document["cautions"].append({"code": "moon-phase", "severity": "note", "message": None, "evidence": {}})
    with pytest.raises(KeyError, match="moon-phase"):
        complete(document)


def test_a_stop_says_which_pairs_it_touches_and_which_still_stand():
    said = message("twin-differs")
    assert "It touches 3 mm brass rod against second brass rod" in said
    assert "still standing: 3 mm brass rod against stainless steel wire." in said
    assert "no other clear result is left standing" in message("twin-differs", pairs_standing=[])


def test_a_second_failing_control_is_named_too():
    other = {"twin": "zinc-12", "of": "bronze-13", "difference": 0.7, "low": 0.2, "high": 1.2}
    assert "zinc-coated steel wire is a copy of" in message("twin-differs", others=[other])


def test_a_pad_that_was_seen_too_weakly_says_by_how_much():
    assert "weaker by 0.40 bars (between −0.20 and 1.00 bars) only" in message(
        "pad-not-seen", why="too small"
    )


def test_long_lists_of_evidence_are_counted_and_not_printed_whole():
    said = message("rf-channel-unknown", channels=[f"channel {n}" for n in range(400)])
    assert "channel 5 and 394 more" in said
    assert len(said) < 500


@pytest.mark.parametrize(
    ("code", "evidence", "words"),
    [
        ("settled", {}, "round 6"),
        ("not-told-apart", {"elements": ["zinc-12"]}, "zinc-coated steel wire"),
        ("too-small-to-matter", {"elements": ["zinc-12"]}, "0.5 bars"),
        ("too-few-rounds", {"fewest_rounds": 3, "rounds_done": 2}, "fewer than 3 rounds"),
        ("known-noise-too-short", {"given": 5, "repeated": 2, "needed": 9}, "5 of the 9 degrees"),
        ("nothing-to-compare", {}, "two elements"),
        ("no-level", {}, "one end"),
        ("not-judged", {"elements": ["steel-14"]}, "stainless steel wire"),
        (
            "stopped",
            {"cautions": ["twin-differs"], "pairs_touched": [], "pairs_standing": [["brass-3", "zinc-12"]]},
            "3 mm brass rod against zinc-coated steel wire",
        ),
        ("present-look-differs", {"outcome": "needs more runs"}, "needs more runs"),
        ("too-fine", {}, "too fine"),
    ],
)
def test_every_reason_has_words(code, evidence, words):
    speech = speech_of(samples.six_elements())
    assert words in reasons.message(speech, code, evidence)
    assert set(reasons.REASONS) >= {code}


def test_a_reason_without_words_is_an_error():
    with pytest.raises(KeyError):
        reasons.message(speech_of(samples.two_elements()), "because", {})


def test_a_stopped_reason_names_what_stopped_it():
    document = samples.six_elements()
    severity, evidence, _ = CAUTIONS["twin-differs"]
    document["cautions"].append(
        {"code": "twin-differs", "severity": severity, "message": None, "evidence": evidence}
    )
    said = reasons.message(speech_of(document), "stopped", {"pairs_standing": []})
    assert said.startswith("Stopped by: the spare copy came out different.")
    assert "No clear result of a pair is left standing." in said


def test_sentences_that_are_there_already_are_kept():
    document = samples.one_round()
    document["verdict"]["statement"] = "As it was said then."
    document["cautions"][0]["message"] = "As it was warned then."
    completed = complete(document)
    assert completed["verdict"]["statement"] == "As it was said then."
    assert completed["cautions"][0]["message"] == "As it was warned then."
    assert completed["one_scan"]["statement"]


def test_completing_fills_every_sentence_and_leaves_the_given_document_alone(sample_name):
    from tests.reports.conftest import MAKERS

    document = MAKERS[sample_name]()
    completed = complete(document)
    assert document["verdict"]["statement"] is None
    filled = [completed["verdict"]["statement"], completed["verdict"]["reception_statement"]]
    filled += [entry["message"] for entry in (*completed["cautions"], *completed["verdict"]["reasons"])]
    assert all(filled)
    assert list(completed) == list(document)
