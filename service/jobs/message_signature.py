"""HTTP message signatures (RFC 9421) with hmac-sha256, over a content digest (RFC 9530).

`created`, `expires` and `nonce` stand under the signature, so that whoever receives it can refuse an old
message and one that comes a second time.
"""

import base64
import hashlib
import hmac
from collections.abc import Mapping

from service.jobs.targets import Target

LABEL = "notice"
KEY_ID = "aerial-assay"
HOLDS_SECONDS = 300
CONTENT_TYPE = "application/json"


def signed_headers(target: Target, body: bytes, *, secret: str, created: int, nonce: str) -> dict[str, str]:
    """The headers of a POST of JSON to the target that sign it.

    created: seconds since 1970; it holds for five minutes. nonce: never used before.
    """
    digest = content_digest(body)
    covered = {
        "@method": "POST",
        "@authority": target.authority,
        "@path": target.path,
        "@query": f"?{target.query}",
        "content-type": CONTENT_TYPE,
        "content-digest": digest,
    }
    names = " ".join(f'"{name}"' for name in covered)
    times = f"created={created};expires={created + HOLDS_SECONDS}"
    parameters = f'({names});{times};nonce="{nonce}";alg="hmac-sha256";keyid="{KEY_ID}"'
    signature = hmac_sha256(secret.encode("ascii"), signature_base(covered, parameters))
    return {
        "Host": target.authority,
        "Content-Type": CONTENT_TYPE,
        "Content-Digest": digest,
        "Signature-Input": f"{LABEL}={parameters}",
        "Signature": f"{LABEL}=:{signature}:",
    }


def signature_base(covered: Mapping[str, str], parameters: str) -> str:
    """What is signed (RFC 9421 section 2.5): a line for each covered component, then the parameters."""
    lines = [f'"{name}": {value}' for name, value in covered.items()]
    return "\n".join([*lines, f'"@signature-params": {parameters}'])


def hmac_sha256(key: bytes, base: str) -> str:
    """The signature of a base (RFC 9421 section 3.3.3) as base64 text."""
    return base64.b64encode(hmac.digest(key, base.encode("ascii"), hashlib.sha256)).decode("ascii")


def content_digest(body: bytes) -> str:
    """The Content-Digest of a body by SHA-256 (RFC 9530 section 2)."""
    return f"sha-256=:{base64.b64encode(hashlib.sha256(body).digest()).decode('ascii')}:"
