"""A service that answers every verdict with what it was asked, and keeps the requests."""

import json
from dataclasses import dataclass, field

import pytest
from flask import Flask, Response, request


@dataclass
class Answering:
    """What the stand-in answers, and what it was asked."""

    status: int = 200
    body: bytes = b'{"format": "analysis/1"}'
    media_type: str = "application/json"
    asked: list[dict] = field(default_factory=list)

    def problem(self, **members) -> None:
        head = {
            "type": "/v1/problems/bad-input",
            "title": "The input has faults",
            "status": 422,
            "detail": "Mend.",
        }
        self.status, self.media_type = 422, "application/problem+json"
        self.body = json.dumps(head | members).encode()

    def create_app(self) -> Flask:
        app = Flask(__name__)

        @app.post("/v1/verdicts")
        def verdict():
            parts = {name: (part.mimetype, part.stream.read()) for name, part in request.files.items()}
            self.asked.append({
                "query": request.args.to_dict(), "type": request.mimetype, "body": request.get_data(),
                "parts": parts,
            })  # fmt: skip
            return Response(self.body, status=self.status, content_type=self.media_type)

        return app


@pytest.fixture
def service():
    return Answering()
