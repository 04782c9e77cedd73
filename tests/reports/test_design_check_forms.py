"""Design checks and verdicts as JUnit XML, Markdown, text and page: exact where machines read them."""

import re
from xml.etree import ElementTree

import pytest

from reports import render
from reports.checks import CHECK_FORMS, render_check
from reports.checks.view import check_view
from reports.junit_xml import FAILED, PASSED, SKIPPED, Case, written
from reports.locales import speaking
from reports.markdown import BOUNDS, MOST_BYTES, escaped
from reports.markdown import written as written_markdown
from reports.view import report_view
from reports.view.model import Image
from reports.wording import complete as complete_verdict
from reports.wording.design_check import complete
from service.analysis.analyse import analysed
from service.analysis.design_check import CheckedTrial, Design, Question, design_check
from tests.analysis.made_trials import made_trial, noisy_scores
from tests.reports.sample_checks import STORE, document

NAMES = ("holds", "falls short", "needs more runs")
HOSTILE = "<b>*x*|`y`</b> [a](http://evil.example) =1+1 @you"


@pytest.fixture(scope="module")
def each():
    return document({"good": 20.0, "bad": 15.0, "unsure": 19.0})


def parsed(xml):
    return ElementTree.fromstring(xml)  # noqa: S314 (our own)


def results(xml):
    found = {}
    for case in parsed(xml).iter("testcase"):
        inner = [child.tag for child in case if child.tag != "system-out"]
        found[case.get("classname"), case.get("name")] = inner[0] if inner else "passed"
    return found


def test_junit_has_a_case_for_level_and_one_for_reception_of_each_candidate(each):
    assert [check["outcome"] for check in each["checks"]] == list(NAMES)
    level, reception = "design-check.level", "design-check.reception"
    expected = {
        (level, "good against old"): "passed",
        (reception, "good against old"): "passed",
        (level, "bad against old"): "failure",
        (reception, "bad against old"): "passed",
        (level, "unsure against old"): "skipped",
        (reception, "unsure against old"): "passed",
    }
    assert results(render_check(each, "junit")) == expected
    failing = render_check(each, "junit", needs_more_runs_fails=True)
    assert results(failing) == expected | {(level, "unsure against old"): "failure"}
    assert (parsed(failing).get("failures"), parsed(failing).get("skipped")) == ("2", "0")


def test_the_sentence_is_the_message_and_the_first_line_of_the_text(each):
    cases = list(parsed(render_check(each, "junit")).iter("testcase"))
    for check, case in zip(each["checks"][1:], (cases[2], cases[4]), strict=True):
        (told,) = case
        assert told.get("message") == check["statement"] == told.text.split("\n")[0]
        assert float(case.get("time")) == 0.0
    assert cases[2][0].get("type") == "falls short"


def test_lost_reception_is_told_and_does_not_turn_the_outcome():
    whole = document({"new": 20.0}, lost=True)
    assert (whole["outcome"], whole["checks"][0]["reception"]["outcome"]) == ("holds", "falls short")
    assert list(results(render_check(whole, "junit")).values()) == ["passed", "skipped"]
    for form in ("markdown", "html", "text"):
        assert "Reception falls short: new did not receive 22" in render_check(whole, form).decode()


def test_cases_of_one_name_are_numbered_and_control_signs_taken_out():
    cases = [Case("c", "n", result, "why \x1b\ud800\ufffe", kind="k") for result in (PASSED, FAILED, SKIPPED)]
    root = parsed(written("s\x00", cases))
    assert [case.get("name") for case in root.iter("testcase")] == ["n", "n (2)", "n (3)"]
    assert root.get("name") == "s\N{REPLACEMENT CHARACTER}"
    assert [root.get(name) for name in ("tests", "failures", "skipped", "errors")] == ["3", "1", "1", "0"]
    assert {child.get("message") for case in root.iter("testcase") for child in case} == {
        None, "why " + 3 * "\N{REPLACEMENT CHARACTER}",
    }  # fmt: skip


@pytest.mark.parametrize("form", CHECK_FORMS)
def test_every_form_says_outcome_sentence_limits_and_what_is_not_seen(each, form):
    content = render_check(each, form)
    if form == "pdf":
        assert content.startswith(b"%PDF-")
        return
    text = re.sub(r"\s+", " ", content.decode())
    assert all(name in text for name in NAMES)
    assert all(sentence in text for sentence in each["not_seen"])
    assert all(check["statement"] in text for check in each["checks"])


def test_the_page_and_the_markdown_carry_what_a_report_must_say(each):
    for form in ("html", "markdown"):
        text = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", render_check(each, form).decode()))
        found = each["trials"][0]["provenance"]
        for said in (
            each["check_id"], f"End of report {each['check_id']}", found["readings_sha256"], "lower limit",
            "at most 5 of 100", "seed 1", "every round, 6 rounds planned", "32 done",
            "Candidate less baseline, in dB", "each 98.3 % sure", "never alone", "not gain or efficiency",
        ):  # fmt: skip
            assert said in text, (form, said)


def test_strangers_names_mean_nothing_in_any_form():
    whole = document({"new": 20.0}, labels={"new": HOSTILE})
    page = render_check(whole, "html").decode()
    assert "<b>" not in page
    markdown = render_check(whole, "markdown").decode()
    assert "<b>" not in markdown
    assert not re.search(r"(?<!\\)[\[\]*`|]", markdown.splitlines()[0])
    assert not re.search(r"\w://", markdown)
    assert "@you" not in markdown
    whole["checks"][0]["candidate_label"] = "a\x1b]0;t\x07"
    for form in ("html", "markdown", "text", "junit"):
        assert "\x1b" not in render_check(whole, form).decode()


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        ("a*b_c`d", r"a\*b\_c\`d"),
        ("1. one", r"1\. one"),
        ("- one", r"\- one"),
        ("-0.5", "-0.5"),
        ("a|b", r"a\|b"),
        ("<x> & y", "&lt;x&gt; &amp; y"),
        ("www.a.b", r"www\.a.b"),
        ("http://a", r"http\://a"),
        ("@you #1", r"&#64;you \#1"),
    ],
)
def test_signs_of_markdown_are_escaped(given, wanted):
    assert escaped(given) == wanted


def test_a_summary_is_never_longer_than_allowed():
    content = written_markdown(iter(["x" * 999] * 2_000))
    assert len(content) <= MOST_BYTES
    assert content.endswith(b"other forms of this report.\n")


@pytest.fixture(scope="module")
def verdicts():
    found = {}
    for name, levels in {"clear winner": (20, 16, 15), "needs more runs": (20, 19.9, 15)}.items():
        made = made_trial(noisy_scores(dict(zip("abc", levels, strict=True)), rounds=8, sd=0.3), margin=0.05)
        found[name] = analysed(made.trial, made.readings, store=STORE).document
        assert found[name]["verdict"]["outcome"] == name
    return found


def test_a_verdict_as_junit_is_passed_or_skipped(verdicts):
    settled = results(render(verdicts["clear winner"], "junit"))
    assert settled["aerial-assay.verdict", "verdict"] == "passed"
    assert set(settled.values()) == {"passed"}
    open_ = results(render(verdicts["needs more runs"], "junit"))
    assert open_["aerial-assay.verdict", "verdict"] == "skipped"
    assert open_["aerial-assay.against", "a against c"] == "passed"
    assert open_["aerial-assay.against", "a against b"] == "skipped"


def test_a_verdict_as_markdown_begins_with_its_outcome_at_level_3(verdicts):
    text = render(verdicts["clear winner"], "markdown").decode()
    assert text.startswith("### clear winner: ")
    assert {line.split(" ")[0] for line in text.splitlines() if line.startswith("#")} == {"###"}
    assert "| --- |" in text
    report = report_view(complete_verdict(verdicts["clear winner"]), lambda _picture: Image("", ()), BOUNDS)
    for part in report.sections:
        facts = [fact.text for group in part.facts for fact in group.facts]
        items = [item for listing in part.lists for item in listing.items]
        cells = [cell.text for table in part.tables for row in table.rows for cell in row.cells]
        messages = [note.message for note in part.notes]
        for said in (part.title, *part.paragraphs, *facts, *items, *cells, *messages, *part.remarks):
            assert escaped(said) in text, said
    assert verdicts["clear winner"]["provenance"]["readings_sha256"] in text


def test_another_form_is_refused(each):
    with pytest.raises(ValueError, match="not known"):
        render_check(each, "card")


def across(**second):
    """A check through the reference r over two trials, kept as a baseline, both with guessed RF channels."""
    made_of = [
        made_trial(noisy_scores({"r": 20.0, "old": 20.0}, rounds=8, sd=0.2), margin=1.0, title="Spring"),
        made_trial(
            noisy_scores({"r": 20.0, "new": 20.0}, rounds=8, sd=0.2), margin=1.0, title="Autumn", **second
        ),
    ]
    trials = [CheckedTrial(analysed(one.trial, one.readings, store=STORE)) for one in made_of]
    kept_as = {"name": HOSTILE, "date": "2026-03-01T12:01:00.000000Z", "note": None}
    question = Question(Design(("old",)), (Design(("new",), 1),), "r", kept_as=kept_as)
    return complete(design_check(question, trials, store=STORE), [one.document for one in trials])


def test_with_two_trials_a_caution_tells_of_which_it_is():
    """Both trials went on beyond a plan that was not stated; safety is said once, for both."""
    report = check_view(across())
    titles = [note.title for section in report.sections for note in section.notes]
    about_the_plan = [title for title in titles if title.startswith("Plan not stated")]
    assert [title.rpartition(", in ")[2] for title in about_the_plan] == [
        "the baseline's trial", "the candidate's trial"
    ]  # fmt: skip
    assert titles.count("Safety") == 1
    one_trial = [
        note.title for section in check_view(document({"new": 20.0})).sections for note in section.notes
    ]
    assert not any(", in the" in title for title in one_trial)


@pytest.mark.parametrize("form", ["html", "markdown"])
def test_the_name_of_a_kept_baseline_is_told_and_escaped(form):
    text = render_check(across(), form).decode()
    assert "Baseline kept as" in text
    assert "of 1 March 2026" in text
    assert HOSTILE not in text


@pytest.mark.parametrize(("locale", "written_day"), [("en-GB", "1 May 2026"), ("en-US", "May 1, 2026")])
def test_days_are_written_as_the_locale_has_them(each, locale, written_day):
    trial = each["trials"][0]
    dated = trial["provenance"] | {"first_at": "2026-05-01T09:00:00Z", "last_at": "2026-05-01T17:00:00Z"}
    with speaking(locale):
        report = check_view(each | {"trials": [trial | {"provenance": dated}]})
    assert (report.scanned, report.issued) == (written_day, written_day)
    assert report.issued_at == ("2026-05-01T17:00:00Z",)


def stands(outcome, low, high):
    """The statement of a check that was decided at round 6 and whose limits of now say less."""
    made = made_trial(noisy_scores({"old": 20.0, "new": 20.0}, rounds=8, sd=0.2), margin=1.0)
    trial = CheckedTrial(analysed(made.trial, made.readings, store=STORE))
    whole = design_check(Question(Design(("old",)), (Design(("new",)),)), [trial], store=STORE)
    (check,) = whole["checks"]
    limits = check["limits"] | {"low": low, "high": high}
    blurred = check | {"outcome": outcome, "limits": limits, "decided_at_round": 6}
    return complete(whole | {"checks": [blurred]}, [trial.document])["statement"]


@pytest.mark.parametrize(("outcome", "limits"), [("holds", (-1.5, 0.5)), ("falls short", (-3.0, -0.5))])
def test_a_decision_that_stands_beyond_its_limits_of_now_says_why(outcome, limits):
    said = stands(outcome, *limits)
    assert "The decision was reached at round 6 and stands" in said
    assert "at worst" not in said
    assert "at best" not in said


def test_outcomes_and_rounds_are_counted_in_plain_english():
    few = document({"new": 20.0, "other": 20.0}, rounds=5)
    assert few["statement"] == "Of 2 candidates: 2 need more runs."
    assert few["checks"][0]["more_rounds"] == 1
    assert "About 1 more round is needed" in few["checks"][0]["statement"]


def test_a_stop_names_its_candidates_where_there_are_several():
    means = {"old": 20.0, "new": 20.0, "other": 20.0, "spare": 17.0}
    elements = [{"id": "spare", "twin_of": "new"}]
    made = made_trial(noisy_scores(means, rounds=8, sd=0.2), margin=1.0, elements=elements)
    trial = CheckedTrial(analysed(made.trial, made.readings, store=STORE))
    question = Question(Design(("old",)), (Design(("new",)), Design(("other",))))
    whole = complete(design_check(question, [trial], store=STORE), [trial.document])
    (stop,) = [caution for caution in whole["cautions"] if caution["severity"] == "stop"]
    assert stop["candidates"] == ["new", "other"]
    assert stop["message"].endswith("It stops: new and other.")
