"""How heavy pages are as they come over the wire, with all that they load: for a trial of usual size."""

import gzip
import io
import json
import re
from pathlib import Path

import numpy as np

from service.pages import kept_trial
from service.pages.verdict_so_far import SoFar
from tests.pages.entered import BARS, new
from tests.pages.looking import LIGHT
from tests.reports.sample_documents import document, readings
from tests.reports.sample_parts import trial_document

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
PACKED = {"Accept-Encoding": "gzip"}


def weight(client, answer) -> int:
    """The bytes of a page and of all that it loads."""
    assert answer.headers["Content-Encoding"] == "gzip"
    text = gzip.decompress(answer.data).decode()
    loaded = [*re.findall(r'(?:src|href)="(/static/[^"]+)"', text), "/favicon.ico"]
    return len(answer.data) + sum(len(client.get(path, headers=PACKED).data) for path in loaded)


def test_the_demo_judged_and_kept_gives_light_pages(client):
    readings = (EXAMPLES / "demo-readings.csv").read_bytes()
    asked = {"readings": (io.BytesIO(readings), "demo.csv"), "unit": "bars", "highest": "10"}
    judged = client.post("/verdict", data=asked, headers=PACKED)
    assert judged.status_code == 200
    assert weight(client, judged) < LIGHT
    trial = json.loads((EXAMPLES / "demo-trial.json").read_text(encoding="utf-8"))
    kept = client.post("/v1/trials", json=trial).json["id"]
    sent = client.post(f"/v1/trials/{kept}/readings", data=readings, content_type="text/csv")
    assert sent.status_code == 201
    assert client.post(f"/kept/{kept}/verdict").status_code == 303
    shown = client.get(f"/kept/{kept}", headers=PACKED)
    assert b"verdict" in gzip.decompress(shown.data)
    assert weight(client, shown) < LIGHT


def test_the_page_of_a_kept_trial_of_64_elements_is_light_too(client, monkeypatch):
    """Weighed with an invented document: to reach the verdict on so many takes half a minute."""
    names = [f"Zinc coated fence wire of the old roll half wave bent end {number}" for number in range(64)]
    values = readings(list(np.linspace(1, -1, len(names))), rounds=12, channels=36)
    verdict = document(trial_document(elements=names, channels=36, planned_rounds=12), values)
    kept = new(client, BARS | {"elements": [{"id": name} for name in names]})
    kept.sent(("element,round,channel,value\n" + "".join(f"{name},1,Quay,5\n" for name in names)).encode())
    monkeypatch.setattr(kept_trial, "so_far", lambda *_: SoFar("1", document=verdict))
    shown = client.get(f"/kept/{kept.path.rpartition('/')[2]}", headers=PACKED)
    text = gzip.decompress(shown.data).decode()
    assert text.count("data:image/svg+xml") == 4  # the ranking and the narrowing, each wide and narrow
    assert weight(client, shown) < LIGHT
