"""One hostile name through every form that anything is answered in: shown as it is, and doing nothing."""

import csv
import io
import json
import logging
import re
import subprocess
import zipfile
from html import unescape
from xml.etree import ElementTree

import pikepdf
import pytest

from service.operations.log_lines import JsonLines
from tests.contracts.described_answers import description
from tests.intake.made_workbooks import XLSX

HOSTILE = (
    "=1+1|<script>alert('x')</script><img src=x onerror=alert(1)>&amp;\"]]>[a](javascript:x)`${7*7}{{7*7}}"
)
SHOWN = HOSTILE[:40]
"""As much of it as stands where there is little room: long names are cut."""
CHANNEL = "@SUM(1)<b>27</b>|"
TRIAL = {
    "title": HOSTILE,
    "meter": {"unit": "bars", "highest": 10},
    "planned_rounds": 3,
    "taken_by": HOSTILE,
    "site": HOSTILE,
    "elements": [{"id": HOSTILE, "label": HOSTILE, "condition": HOSTILE}, {"id": "b", "label": "+b"}],
}
READINGS = [
    {"element": element, "round": number, "channel": channel, "value": 4 + number % 2 + (element == HOSTILE)}
    for element in (HOSTILE, "b")
    for number in range(1, 5)
    for channel in (CHANNEL, "-28")
]
BODIES = {
    "/v1/verdicts": {"trial": TRIAL, "readings": READINGS},
    "/v1/design-checks": {"trial": TRIAL, "readings": READINGS, "baseline": HOSTILE, "candidates": ["b"]},
    "/v1/plans": {
        "trial": TRIAL | {"channels": [{"id": CHANNEL}, {"id": "-28"}]},
        "minutes_per_run": 5,
        "minutes_available": 60,
    },
}
TAG = re.compile(r"<script>alert|<img src=x|<b>27", re.IGNORECASE)


def forms_of(path: str) -> list[str]:
    """The forms that the description tells of."""
    operation = description().document["paths"][path]["post"]
    (form,) = (parameter for parameter in operation["parameters"] if parameter["name"] == "form")
    return form["schema"]["enum"]


CASES = [(path, form) for path in BODIES for form in forms_of(path)]


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


def is_safe_page(text: str) -> None:
    assert not TAG.search(text)
    assert SHOWN in unescape(re.sub(r"<[^>]*>", "", text))


def is_safe_table(text: str) -> None:
    cells = [cell for row in csv.reader(io.StringIO(text.removeprefix("\ufeff"))) for cell in row]
    for cell in cells:
        assert cell[:1] not in set("=+-@\t\r") or re.fullmatch(r"[+-]?[\d.]+(e-?\d+)?", cell), cell
    assert any(cell.startswith(f"'{HOSTILE}") for cell in cells)


def is_safe_markdown(text: str) -> None:
    assert not TAG.search(text)
    assert not re.search(r"(?<!\\)\]\(javascript:", text)
    tables = re.findall(r"(?:^\|.*\n)+", text, re.MULTILINE)
    assert tables
    for table in tables:
        assert len({len(re.findall(r"(?<!\\)\|", row)) for row in table.splitlines()}) == 1, table
    assert SHOWN in unescape(re.sub(r"\\(.)", r"\1", text))


def is_safe_text(text: str) -> None:
    assert not re.search(r"[^\n -\uffff]", text)
    assert SHOWN in text


def is_safe_xml(content: bytes) -> None:
    root = ElementTree.fromstring(content)  # noqa: S314 (our own)
    texts = [*root.itertext(), *(value for part in root.iter() for value in part.attrib.values())]
    assert HOSTILE in "".join(texts)
    assert not any(part.tag in {"script", "img", "b"} for part in root.iter())


def is_safe_workbook(content: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(content)) as book:
        parts = {name: book.read(name) for name in book.namelist()}
    for name, part in parts.items():
        if name.endswith(".xml"):
            ElementTree.fromstring(part)  # noqa: S314 (our own)
    assert not any(b"<f>" in part or b"<f " in part for part in parts.values())
    assert any(SHOWN in unescape(part.decode()) for name, part in parts.items() if name.endswith(".xml"))


def is_safe_pdf(content: bytes) -> None:
    """No action stands in it but links to places of its own; what it shows is text."""
    with pikepdf.open(io.BytesIO(content)) as opened:
        parts = [part for part in opened.objects if isinstance(part, pikepdf.Dictionary)]
    assert not [part for part in parts if {"/JS", "/AA", "/OpenAction", "/URI"} & set(part.keys())]
    shown = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True).stdout
    assert SHOWN[:20] in shown.decode()


def is_safe_json(text: str) -> None:
    assert HOSTILE in json.dumps(json.loads(text), ensure_ascii=False).replace('\\"', '"')


def is_a_picture(content: bytes) -> None:
    """The name is drawn in it, and stands in its description, which is text."""
    assert SHOWN.encode() in content


SAFE = {
    "text/html": lambda content: is_safe_page(content.decode()),
    "text/csv": lambda content: is_safe_table(content.decode()),
    "text/markdown": lambda content: is_safe_markdown(content.decode()),
    "text/plain": lambda content: is_safe_text(content.decode()),
    "application/xml": is_safe_xml,
    "application/json": is_safe_json,
    "application/pdf": is_safe_pdf,
    XLSX: is_safe_workbook,
    "image/png": is_a_picture,
}
"""Fails where the name is not shown in a form of that media type, or does anything."""


@pytest.mark.parametrize(("path", "form"), CASES, ids=[f"{path} {form}" for path, form in CASES])
def test_it_is_shown_and_does_nothing(client, path, form):
    answer = client.post(f"{path}?form={form}", json=BODIES[path])
    assert answer.status_code == 200, answer.data[:500]
    SAFE[answer.mimetype](answer.get_data())
    for _, value in answer.headers:
        assert "script" not in value.replace("script-src", "")


def test_it_is_kept_exported_and_listed_and_does_nothing(client):
    kept = client.post("/v1/trials", json=TRIAL).headers["Location"]
    assert client.post(f"{kept}/readings", json={"readings": READINGS}).status_code == 201
    for form in ("json", "ndjson", "csv"):
        answer = client.get(f"{kept}/readings?form={form}")
        assert answer.status_code == 200, answer.data[:500]
        if form == "csv":
            is_safe_table(answer.get_data(as_text=True))
        else:
            assert HOSTILE in answer.get_data(as_text=True).replace('\\"', '"')
    pages = ["/kept", kept.replace("/v1/trials", "/kept")]
    for path in pages:
        answer = client.get(path, headers={"Accept": "text/html"})
        assert answer.status_code == 200, path
        is_safe_page(answer.get_data(as_text=True))


@pytest.mark.parametrize(
    "path",
    ["/v1/verdicts?form={name}", "/v1/verdicts?{name}=1", "/v1/{name}", "/{name}", "/v1/problems/{name}"],
)
def test_it_is_told_back_and_does_nothing(client, path):
    """Whatever of a request is told back is JSON, or escaped where a browser asks."""
    for accept in ("application/json", "text/html"):
        address = path.format(name="<script>alert(1)</script>")
        answer = client.open(address, method="POST", json={}, headers={"Accept": accept})
        assert 400 <= answer.status_code < 500
        if answer.mimetype == "text/html":
            assert not TAG.search(answer.get_data(as_text=True))
        else:
            assert answer.mimetype == "application/problem+json"


def test_a_log_line_is_one_line_whatever_it_tells_of():
    record = logging.LogRecord("aerial_assay", logging.INFO, "", 1, f"{HOSTILE}\n{{}}\r\u2028", (), None)
    text = JsonLines().format(record)
    assert len(text.splitlines()) == 1
    assert json.loads(text)["message"].startswith(HOSTILE)
