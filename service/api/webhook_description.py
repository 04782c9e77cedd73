"""What a webhook is sent, described for whoever receives it (OpenAPI 3.1, `webhooks`)."""

from typing import Any

from service.intake.media_types import JSON

ID = {"type": "string", "pattern": "^[0-9a-f]{32}$"}
NOTICE: dict[str, Any] = {
    "type": "object",
    "additionalProperties": False,
    "required": ["format", "delivery", "trial", "analysis", "outcome", "statement", "report"],
    "properties": {
        "format": {"const": "verdict-notice/1"},
        "delivery": ID | {"description": "The same however often this notice comes."},
        "trial": ID,
        "analysis": ID,
        "outcome": {"enum": ["clear winner", "within noise", "needs more runs"]},
        "statement": {"type": "string", "description": "The verdict in a sentence."},
        "report": {"type": "string", "description": "The path of the report, at the address of the service."},
    },
}
SIGNED = {
    "Content-Digest": "The SHA-256 of the body (RFC 9530).",
    "Signature-Input": 'Label notice, over "@method" "@authority" "@path" "@query" "content-type" '
    '"content-digest", with created, expires (five minutes later), nonce (never the same), alg hmac-sha256 '
    "and keyid aerial-assay (RFC 9421).",
    "Signature": "The signature by the secret of the setting AERIAL_ASSAY_WEBHOOK_SECRET.",
}
DESCRIPTION = (
    "Sent to the address of the setting AERIAL_ASSAY_WEBHOOK, where there is one, whenever an analysis of "
    "a kept trial is done, of whichever owner. Any answer but 2xx and 410 within ten seconds, or none, is "
    "tried again, nine times over about an hour, later where Retry-After asks it (twenty minutes at "
    "most). Redirects are not followed. A notice may come more than once, and in another order than the "
    "verdicts: act once for each `delivery`. openapi/examples/receive-notices.py verifies signature, age "
    "and nonce."
)
WEBHOOKS: dict[str, Any] = {
    "verdict": {
        "post": {
            "operationId": "verdictReached",
            "summary": "A kept trial has come to a verdict.",
            "description": DESCRIPTION,
            "security": [],
            "parameters": [
                {"in": "header", "name": name, "required": True, "description": text}
                | {"schema": {"type": "string"}}
                for name, text in SIGNED.items()
            ],
            "requestBody": {"required": True, "content": {JSON: {"schema": NOTICE}}},
            "responses": {
                "2XX": {"description": "Taken."},
                "410": {"description": "Not wanted any more: this notice is not sent again."},
                "default": {"description": "Not taken: it is sent again."},
            },
        }
    }
}
