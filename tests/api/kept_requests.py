"""Requests to kept trials, as a logging tool makes them."""

from dataclasses import dataclass
from typing import Any

TRIAL = {"title": "Invented", "meter": {"unit": "bars", "highest": 10}, "margin": 0.5}
WITH_REFERENCE = {
    "title": "Invented", "meter": {"unit": "bars", "highest": 10, "resolution": 0.1}, "margin": 0.5,
    "reference": "brass-3",
}  # fmt: skip
HEADING = "element,round,channel,value"


def rows(
    elements: str = "ab", rounds: Any = (1,), channels: Any = ("Harbour", "Quay"), value: int = 5
) -> bytes:
    lines = [f"{e},{r},{c},{value}" for r in rounds for e in elements for c in channels]
    return "\n".join([HEADING, *lines, ""]).encode()


def scattered_rows(elements, *, day: str | None = None, shift: float = 0.0, levels: Any = ()) -> bytes:
    """Six rounds on two RF channels that scatter a little; an element may lie apart, all may be shifted."""
    apart = dict(levels)
    lines = [HEADING + (",at" if day else "")]
    for place, name in enumerate(elements):
        for number in range(1, 7):
            for channel, offset in (("27", 0.5), ("31", -0.5)):
                value = 6 + offset + shift + apart.get(name, 0) + 0.1 * ((number * (place + 2)) % 3)
                at = f",{day}T{8 + number:02}:{place:02}:00+02:00" if day else ""
                lines.append(f"{name},{number},{channel},{value:.1f}{at}")
    return "\n".join(lines).encode()


@dataclass
class Kept:
    """One kept trial behind a test client."""

    client: Any
    path: str

    @classmethod
    def new(cls, client, document=None) -> "Kept":
        answer = client.post("/v1/trials", json=TRIAL if document is None else document)
        assert answer.status_code == 201, answer.json
        return cls(client, answer.headers["Location"])

    @property
    def id(self) -> str:
        return self.path.rpartition("/")[2]

    def get(self, tail: str = ""):
        return self.client.get(self.path + tail)

    def patch(self, change, version: str = "*"):
        return self.client.patch(self.path, json=change, headers={"If-Match": version})

    def send(self, body: bytes = rows(), *, query: str = "", key: str | None = None, kind: str = "text/csv"):
        headers = {} if key is None else {"Idempotency-Key": key}
        return self.client.post(f"{self.path}/readings{query}", data=body, content_type=kind, headers=headers)

    def sent(self, *arguments, **named) -> dict[str, Any]:
        answer = self.send(*arguments, **named)
        assert answer.status_code == 201, answer.json
        return answer.json

    def readings(self) -> list[dict[str, Any]]:
        return self.get("/readings").json["readings"]


def problem(answer, status: int) -> dict[str, Any]:
    assert (answer.status_code, answer.content_type) == (status, "application/problem+json"), answer.data
    return answer.json


def faults(answer) -> list[dict[str, Any]]:
    return problem(answer, 422)["errors"]
