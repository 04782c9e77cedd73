"""The whole job in a browser, as somebody does it who has readings, a plan, or one scan of each."""

import csv
import io
import re
from pathlib import Path

from service.pages import start
from tests.reports.pdf_text import printed

EXAMPLES = Path(start.__file__).parent / "examples"
REFUSED = "422 (UNPROCESSABLE ENTITY)"


def saved(page, name: str) -> bytes:
    """What the button of that name gives: a file, saved or shown by the browser."""
    form = page.get_by_role("button", name=name).locator("xpath=ancestor::form")
    asked = {}
    for field in form.locator("input[type=hidden]").all():
        asked[field.get_attribute("name")] = field.get_attribute("value")
    asked["form"] = page.get_by_role("button", name=name).get_attribute("value")
    address = form.get_attribute("action")
    answer = page.request.post(address, multipart=asked, timeout=60_000)
    assert answer.status == 200, answer.text()
    return answer.body()


def test_from_a_file_to_the_verdict_and_its_pdf(look):
    page = look()
    page.set_input_files("#readings", EXAMPLES / "six-rounds.csv")
    page.select_option("#unit", "bars")
    page.fill("#highest", "10")
    page.get_by_role("button", name="Judge these readings").click()
    statement = page.locator(".verdict .statement").inner_text()
    assert "copper tube is the best of the 4 elements" in statement
    assert page.locator(".outcome strong").inner_text() == "clear winner"
    assert page.locator("figure img").first.get_attribute("alt")
    assert "wide form" in page.locator(".read-as").inner_text()
    text = printed(saved(page, "PDF to print"))
    assert re.sub(r"\s+", " ", statement) in text


def test_without_javascript_the_same_is_had(look):
    page = look("/?example=six-rounds", script=False)
    page.get_by_role("button", name="Judge these readings").click()
    assert page.locator(".outcome strong").inner_text() == "clear winner"
    page.get_by_role("button", name="Keep this as a trial").click()
    assert page.locator("h1").inner_text() == "An invented trial"
    assert "6 of 6 planned rounds are whole" in page.locator("ul.strip").inner_text()


def test_a_press_on_a_form_of_the_report_brings_it(look):
    page = look("/?example=six-rounds")
    page.get_by_role("button", name="Judge these readings").click()
    with page.expect_response(lambda answer: answer.url.endswith("/verdict")) as told:
        page.get_by_role("button", name="One page to keep (HTML)").click()
    assert told.value.status == 200
    page.get_by_text("Method", exact=True).first.wait_for()
    assert page.locator(".maker").count() == 1


def test_faults_are_told_by_line_and_nothing_is_lost(look):
    page = look("/?example=six-rounds", expects=(REFUSED,))
    table = (EXAMPLES / "six-rounds.csv").read_text().replace("Harbour,22,", "Harbour,22,7/10 ", 1)
    page.fill("#table", table)
    page.fill("#highest", "ten")
    page.get_by_role("button", name="Judge these readings").click()
    trouble = page.get_by_role("alert")
    assert "Line 2" in trouble.inner_text()
    assert "Full scale" in trouble.inner_text()
    assert page.input_value("#table").strip() == table.strip()
    assert page.input_value("#highest") == "ten"
    assert page.get_attribute("#highest", "aria-invalid") == "true"
    assert page.evaluate("document.activeElement.id") == "trouble"
    page.fill("#table", (EXAMPLES / "six-rounds.csv").read_text())
    page.fill("#highest", "10")
    page.get_by_role("button", name="Judge these readings").click()
    page.locator(".verdict").wait_for()


def test_who_has_one_scan_of_each_is_told_what_it_shows_and_the_cheapest_way_on(look):
    page = look("/?example=one-scan", width=390, height=800)
    page.get_by_role("button", name="Judge these readings").click()
    assert "One scan of each cannot say which" in page.locator(".verdict").inner_text()
    worth = page.locator("#one-scan").inner_text()
    assert "chance" in worth.lower()
    page.get_by_role("button", name="Plan the rounds to come").click()
    assert "goes on with the readings of" in page.locator(".told").inner_text()
    page.fill("#minutes_per_run", "6")
    page.fill("#minutes_available", "120")
    page.get_by_role("button", name="Make the plan").click()
    assert "round" in page.locator(".verdict .statement").inner_text()
    assert saved(page, "Run sheet to print (PDF)").startswith(b"%PDF")


def filled_in(table: bytes) -> str:
    """The table to fill in, with levels that set one apart."""
    rows = list(csv.reader(io.StringIO(table.decode("utf-8-sig"))))
    best = {"rod A": 8, "tube B": 4, "wire C": 2}
    where = rows[0].index("channel"), rows[0].index("rf_channel") if "rf_channel" in rows[0] else None
    out = [rows[0]]
    for place, row in enumerate(rows[1:]):
        cells = list(row)
        for column, heading in enumerate(rows[0]):
            element = heading.partition("@")[0]
            if column not in where and element in best:
                number = int(heading.partition("@")[2] or 1)
                cells[column] = str(best[element] + (number + place) % 2)
        out.append(cells)
    written = io.StringIO()
    csv.writer(written).writerows(out)
    return written.getvalue()


def test_from_a_plan_to_its_sheet_to_readings_to_the_verdict(look):
    page = look("/plan")
    page.fill("#minutes_per_run", "6")
    page.fill("#minutes_available", "110")
    page.select_option("#unit", "bars")
    page.fill("#highest", "10")
    page.fill("#title", "Planned on a page (invented)")
    page.fill(
        "#elements",
        "rod A, brass, rod, 3, 690\ntube B, aluminium, tube, 3, 690\nwire C, copper, wire, 3, 690",
    )
    page.fill("#channels", "Harbour, 22\nQuay, 25\nTern, 41")
    page.get_by_role("button", name="Make the plan").click()
    assert page.locator(".verdict .statement").inner_text().startswith("6 rounds of 3 elements")
    assert "rod A" in printed(saved(page, "Run sheet to print (PDF)"))
    table = filled_in(saved(page, "Table to fill in (CSV)"))
    page.get_by_role("button", name="Keep this as a trial").click()
    assert page.locator("h1").inner_text() == "Planned on a page (invented)"
    assert "Round 1, run 1 of 3" in page.locator(".next-run").inner_text()
    page.fill("#table", table)
    page.get_by_role("button", name="Keep these readings").click()
    page.locator(".verdict").wait_for()
    assert "rod A is" in page.locator(".verdict .statement").inner_text()
    assert "6 of 6 planned rounds are whole" in page.locator("ul.strip").inner_text()
    assert page.locator("figure").count() >= 2
