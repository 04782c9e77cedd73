"""JSON out, without the two numbers that are not JSON."""

import json
from typing import Any

from flask import Response
from flask.json.provider import DefaultJSONProvider

from service.intake.media_types import JSON


class StrictProvider(DefaultJSONProvider):
    """Flask's provider, but NaN and the infinities raise ValueError and keys keep their order."""

    sort_keys = False

    def dumps(self, obj: Any, **options: Any) -> str:
        """The object as JSON text. Raises ValueError for NaN and infinities."""
        return super().dumps(obj, allow_nan=False, **options)


def json_text(document: object) -> bytes:
    """The document as UTF-8 JSON without needless spaces. Raises ValueError for NaN and infinities."""
    return json.dumps(document, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()


def json_answer(document: object, *, status: int = 200, media_type: str = JSON) -> Response:
    """An answer that holds the document."""
    return Response(json_text(document), status=status, content_type=media_type)
