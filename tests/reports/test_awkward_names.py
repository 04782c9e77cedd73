"""Names at the limit: 200 characters without a blank, right to left, marks that turn the direction."""

import io
import re
import subprocess

import pikepdf

import reports
from reports import document as doc
from tests.reports import sample_documents as samples
from tests.reports import undrawn
from tests.reports.plain import visible
from tests.reports.sample_parts import trial_document

UNBROKEN = "x" * 200
HEBREW, OVERRIDE, ARABIC_MARK = "\u05de\u05d5\u05d8", "a\u202eb\u2066c", "a\u061cb"


def document(names, **fields):
    trial = trial_document(elements=names, channels=6, **fields)
    trial["reference"] = None
    return samples.document(trial, samples.readings([0.5, 0.1, 0.0][: len(names)], rounds=6, channels=6))


def test_long_names_are_cut_and_stay_apart_and_the_table_of_elements_has_them_whole():
    made = document([UNBROKEN, UNBROKEN[:-1] + "y", "short"])
    short = list(doc.short_labels(made).values())
    assert len(set(short)) == 3
    assert short[0].endswith("\u2026 #1")
    assert short[2] == "short"
    assert max(map(len, short)) <= doc.LONGEST_LABEL + 6
    page = visible(undrawn.page(made))
    assert f"#2: {UNBROKEN[:-1]}y" in page


def test_a_long_name_pushes_nothing_off_the_page(tmp_path):
    made = reports.render(document([UNBROKEN, UNBROKEN[:-1] + "y", "short"]), "pdf")
    (tmp_path / "r.pdf").write_bytes(made)
    boxes = subprocess.run(
        ["pdftotext", "-bbox", "r.pdf", "-"], cwd=tmp_path, capture_output=True, text=True, check=True
    ).stdout
    words = re.findall(r'<word xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)"', boxes)
    with pikepdf.open(io.BytesIO(made)) as opened:
        width, pages = float(opened.pages[0].mediabox[2]), len(opened.pages)
    assert len(words) > 500
    assert max(float(right) for _, right in words) <= width - 30
    assert pages <= 10


def test_many_controls_of_one_kind_are_counted():
    from reports.wording.cautions import controls
    from reports.wording.speech import speech_of

    speech = speech_of(samples.six_elements())
    twin = {"twin": "brass-3b", "of": "brass-3", "difference": 0.9, "low": 0.4, "high": 1.4}
    told = controls.twin_differs(speech, twin | {"others": [twin] * 5})
    assert told.count("is a copy of") == 3
    assert "So with 3 more." in told
    assert "more." not in controls.twin_differs(speech, twin | {"others": [twin] * 2}).replace("more or", "")


def test_marks_that_turn_the_direction_never_reach_a_report():
    made = document([OVERRIDE, ARABIC_MARK, "brass"], title="t\u202et", site="s\u200fs", taken_by="b\u2067b")
    page = undrawn.page(made)
    assert re.findall("[\u061c\u200e\u200f\u202a-\u202e\u2066\u2067]", page) == []
    assert "a\ufffdb\ufffdc" in page


def test_a_name_that_runs_from_right_to_left_is_isolated_from_its_neighbours():
    made = document([HEBREW, "brass", "bronze"])
    isolated = f"\u2068{HEBREW}\u2069"
    assert doc.clean(HEBREW) == isolated
    page = undrawn.page(made)
    body = page.split("<main>")[1].split("<td>Trial document")[0]
    assert isolated in body
    assert HEBREW not in body.replace(isolated, "")
    assert doc.clean("brass") == "brass"


def test_cleaning_twice_changes_nothing_and_a_strangers_loose_isolate_is_shown():
    for text in (HEBREW, f"{HEBREW} 5, {HEBREW}", f"\u2068{HEBREW}\u2069 and 7", "brass"):
        assert doc.clean(doc.clean(text)) == doc.clean(text)
    assert doc.clean("a\u2068b") == "a\ufffdb"
    assert doc.clean("a\u2069b\u2068c") == "a\ufffdb\ufffdc"


def test_invisible_isolates_cannot_make_two_names_look_alike():
    made = document(["brass", "br\u2068\u2069ass"])
    assert sorted(len(label) > 6 for label in doc.labels(made).values()) == [True, True]
