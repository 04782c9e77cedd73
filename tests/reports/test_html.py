"""The page: self-contained, escaped, allowed to load nothing, legible without colour."""

import base64
import re
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

import reports
from reports.charts import palette
from reports.wording.safety import SAFETY
from tests.reports import elsewhere, undrawn
from tests.reports import sample_documents as samples
from tests.reports.conftest import MAKERS
from tests.reports.contrast import contrast
from tests.reports.drawn import drawings
from tests.reports.plain import visible
from tests.reports.sample_parts import trial_document
from tests.reports.sample_strangers import hostile_document

ROOT = Path(reports.__file__).parent


@pytest.fixture(scope="module")
def hostile_page() -> str:
    return reports.render(hostile_document(), "html").decode("utf-8")


def test_contrast_is_computed_as_the_guidelines_do():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)  # the usual grey at the limit


def test_the_page_leads_nowhere_outside(html, sample_name):
    addresses = re.findall(r'(?:src|srcset|href)\s*=\s*"([^"]*)"', html(sample_name))
    assert addresses or sample_name == "one element"
    assert [one for one in addresses if not one.startswith("data:image/svg+xml;base64,")] == []
    assert re.findall(r"@import|url\((?!\"data:)", html(sample_name)) == []
    assert "<script" not in html(sample_name)


def test_a_page_reads_the_same_with_and_without_its_pictures(html, sample_name):
    assert visible(undrawn.page(MAKERS[sample_name]())) == visible(html(sample_name))


def test_pictures_lead_nowhere_outside_either(html):
    drawn = drawings(html("six elements"))
    assert len(drawn) == 16
    for drawing in drawn:
        links = re.findall(r'href="([^"]*)"|url\(([^)]*)\)', drawing)
        assert [one for pair in links for one in pair if one and not one.startswith("#")] == []


def test_the_policy_in_the_page_allows_its_own_style_and_nothing_else(html):
    page = html("two elements")
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL).group(1)
    digest = base64.b64encode(sha256(style.encode("utf-8")).digest()).decode()
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page).group(1)
    assert f"sha256-{digest}" in policy.replace("&#43;", "+").replace("&#39;", "'")
    assert "unsafe" not in policy
    assert len(re.findall("<style", page)) == 1
    assert re.findall(r'\sstyle="', page) == []


def test_the_same_document_gives_the_same_page(html):
    assert elsewhere.report("html").decode("utf-8") == html("two elements")


def test_names_cannot_leave_their_place(hostile_page):
    assert "<script" not in hostile_page
    assert re.findall(r"<(?:img|svg|b)\b(?! src=\"data:)", hostile_page) == []
    assert re.findall(r"\son\w+=", re.sub(r">[^<]*<", "><", re.sub(r'"[^"]*"', '""', hostile_page))) == []
    assert not re.search(r"[\x00-\x08\x0b-\x1f\u202e]", hostile_page)


def test_names_are_still_shown_as_they_are(hostile_page):
    text = visible(hostile_page)
    for name in ("<script>alert(1)</script>", "a\"b'c&<b>", "$x_{2}$ \\frac", "<img src=x onerror=alert(2)>"):
        assert name in text


def test_names_cannot_leave_their_place_in_pictures(hostile_page):
    drawn = drawings(hostile_page)
    assert len(drawn) >= 12
    for drawing in drawn:
        tags = {node.tag.rsplit("}", 1)[-1] for node in ElementTree.fromstring(drawing).iter()}  # noqa: S314
        assert tags <= {
            "svg",
            "g",
            "path",
            "defs",
            "style",
            "clipPath",
            "rect",
            "use",
            "pattern",
            "metadata",
            "text",
        } | {
            "RDF",
            "Work",
        }


def test_every_picture_says_in_words_what_it_shows(html):
    page = html("six elements")
    alternatives = re.findall(r'<img [^>]*alt="([^"]*)"', page)
    assert len(alternatives) == page.count("<img ") == 8
    assert all(len(words) > 40 for words in alternatives)
    assert "3 mm brass rod: 5.45, leads" in alternatives[0]


def test_pictures_are_drawn_again_for_narrow_screens(html):
    page = html("six elements")
    assert page.count('<source media="(max-width: 640px)"') == page.count("<img ")
    widths = [float(re.search(r'width="([\d.]+)pt"', drawing).group(1)) for drawing in drawings(page)]
    assert min(widths) == pytest.approx(92 / 25.4 * 72, abs=0.1)


def test_tables_name_their_rows_and_columns(html):
    page = html("six elements")
    assert page.count("<table>") == page.count("<caption>")
    assert re.findall(r"<th(?! scope=)(?!ead)", page) == []
    assert re.findall(r"<t[hd][^>]*></t[hd]>", page) == []


def test_headings_come_in_order(html, sample_name):
    levels = [int(level) for level in re.findall(r"<h([1-6])", html(sample_name))]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_templates_hold_loops_names_and_messages_only():
    allowed = re.compile(
        r"\{% (for \w+ in [\w.]+|endfor|include \"\w+\.html\") %\}|\{\{ [\w.]+ \}\}"
        r"|\{\{ _\(\"[^\"]+\"(, \w+=[\w.]+)*\) \}\}"
    )
    for template in (ROOT / "templates").iterdir():
        left = allowed.sub("", template.read_text(encoding="utf-8"))
        assert re.findall(r"\{[%{#].*", left) == [], template.name


def test_colours_of_pictures_and_pages_agree_and_can_be_read():
    style = (ROOT / "styles" / "palette.css").read_text(encoding="utf-8")
    named = dict(re.findall(r"--(\w+): (#\w{6});", style))
    for name in ("paper", "ink", "quiet", "rule", "copper"):
        assert named[name] == getattr(palette, name.upper())
    grounds = [named["paper"], named["sheet"]]
    for ground in grounds:
        assert min(contrast(named[name], ground) for name in ("ink", "quiet", "copper")) >= 4.5
    assert min(contrast(line, palette.PAPER) for line in palette.LINES) >= 4.5
    assert (
        min(contrast(palette.INK, tile) for tile in (palette.TILE_LOW, palette.TILE_HIGH, palette.BAND))
        >= 4.5
    )


def test_styles_use_no_colour_outside_the_palette():
    named = (ROOT / "styles" / "palette.css").read_text(encoding="utf-8").lower()
    for sheet in ("both", "screen", "print"):
        text = (ROOT / "styles" / f"{sheet}.css").read_text(encoding="utf-8")
        assert [one for one in re.findall(r"#[0-9a-f]{6}\b", text) if one not in named] == []


def test_large_tables_are_cut_and_say_where_the_rest_is():
    trial = trial_document(elements=["brass-3", "bronze-13"], channels=450)
    document = samples.document(trial, samples.readings([1.0, 0.0], rounds=3, channels=450))
    page = undrawn.page(document)
    readings = page.split("<caption>Mean reading", 1)[1].split("</table>", 1)[0]
    assert readings.count('<th scope="row"') == 400
    told = "400 of 450 rows are printed; all of it stands in the CSV form, or in the JSON where there is no"
    assert told in visible(page)


def test_the_page_prints_on_the_paper_asked_for():
    assert "size: letter" in undrawn.page(samples.two_elements(), paper="letter")
    with pytest.raises(ValueError, match="a4 and letter"):
        reports.render(samples.two_elements(), "html", paper="a0")


def test_other_forms_are_refused_by_name():
    with pytest.raises(ValueError, match="html, pdf"):
        reports.render(samples.two_elements(), "docx")


def test_safety_is_in_every_report(html, sample_name):
    text = visible(html(sample_name))
    assert [sentence for sentence in SAFETY if sentence not in text] == []
