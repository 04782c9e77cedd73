"""How heavy pages are as they come over the wire, with all that they load: for a trial of usual size."""

import gzip
import io
import json
import re
from pathlib import Path

from tests.pages.looking import LIGHT

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
