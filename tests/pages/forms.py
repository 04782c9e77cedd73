"""Forms of kept trials, sent without a browser, and the words of the page that answers."""

import re

from tests.pages.places import METER

NEW = {"title": "Invented", "elements": "a\nb\nc", "channels": "Harbour, 22\nQuay, 25", **METER}


def text_of(answer) -> str:
    """The words of a page."""
    text = re.sub(
        r"<(script|style|select)[^>]*>.*?</\1>", " ", answer.get_data(as_text=True), flags=re.DOTALL
    )
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text))


def new(client, **more) -> str:
    """The path of a new kept trial."""
    answer = client.post("/kept", data=NEW | more)
    assert answer.status_code == 303, text_of(answer)
    return answer.location


def sent(client, path: str, table: bytes | str, **more):
    """What answers readings pasted on the page of a kept trial."""
    return client.post(f"{path}/readings", data={"table": table, **more})
