"""What scripts add: a file dropped on the panel, and a verdict that shows itself once it is there."""

from service.pages import verdict_so_far
from tests.pages.places import METER, SIX_ROUNDS, press

DROP = """(table) => {
    const carried = new DataTransfer();
    carried.items.add(new File([table], "dropped.csv", {type: "text/csv"}));
    const panel = document.querySelector(".drop-here");
    for (const kind of ["dragenter", "dragover"])
        panel.dispatchEvent(new DragEvent(kind, {dataTransfer: carried, bubbles: true, cancelable: true}));
    const outlined = getComputedStyle(panel).outlineStyle;
    panel.dispatchEvent(new DragEvent("drop", {dataTransfer: carried, bubbles: true, cancelable: true}));
    return outlined;
}"""


def test_a_file_dropped_anywhere_on_the_panel_is_taken(look):
    page = look()
    assert page.evaluate(DROP, SIX_ROUNDS) == "dashed"
    assert page.evaluate("document.querySelector('#readings').files[0].name") == "dropped.csv"
    page.select_option("#unit", "bars")
    page.fill("#highest", "10")
    press(page, "Judge these readings")
    assert page.locator(".outcome strong").inner_text() == "clear winner"


def test_a_verdict_that_takes_its_time_shows_itself_once_it_is_there(look, client, monkeypatch, held_back):
    monkeypatch.setattr(verdict_so_far, "PATIENCE", 0.0)
    asked = {"table": SIX_ROUNDS, "title": "Slow (invented)", **METER}
    page = look(client.post("/kept/from-readings", data=asked).location)
    assert page.get_by_role("link", name="Look again").is_visible()
    assert "The verdict is being worked out" in page.get_by_role("status").inner_text()
    held_back.set()
    page.locator(".verdict .statement").wait_for()
    assert "copper tube is the best" in page.locator(".verdict .statement").inner_text()
