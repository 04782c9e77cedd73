"""What is checked before a request is looked at, and what every answer carries.

Requests that come from a page of another site are refused when they bring a body: the service asks nobody
who they are while it listens on this machine alone, so a foreign page must not be able to use it.
"""

from functools import partial
from urllib.parse import urlsplit

from flask import Flask, Response, request
from werkzeug.exceptions import Forbidden

from service.api.admission import Admission, Holders
from service.api.bodies import accept_post
from service.api.request_record import record_requests
from service.errors import BadRequest, UnsupportedMedia
from service.settings import Settings, is_loopback

WITH_BODY = frozenset({"POST", "PUT", "PATCH", "DELETE"})
SECURITY_HEADERS = {
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "private, no-cache",
}
"""What no view says otherwise. Answers may be kept by who asked alone, and are asked for anew before use."""


def guard(app: Flask, settings: Settings, holders: Holders) -> None:
    """Let the app check every request and complete every answer."""
    record_requests(app)
    app.before_request(partial(_refuse_foreign_hosts, _names(settings)))
    app.before_request(Admission(settings, holders).check)
    app.before_request(_refuse_foreign_pages)
    app.before_request(_refuse_encoded_bodies)
    app.after_request(_with_security_headers)


def is_our_host(host: str, names: frozenset[str]) -> bool:
    """Whether a Host header names this machine's loopback (localhost, or such an address) or one of `names`.

    A page that lets its own name point here (DNS rebinding) cannot send such a header. The framework's
    own list of hosts is not used, since it cuts "[::1]" at its first colon.
    """
    try:
        name = urlsplit(f"//{host}").hostname or ""
    except ValueError:
        return False
    return is_loopback(name) or name in names


def _names(settings: Settings) -> frozenset[str]:
    """The names and addresses beyond the loopback that clients may call this service by."""
    own = {settings.host.strip("[]").lower()} - {"0.0.0.0", "::"}  # noqa: S104 (names no host to ask for)
    return frozenset({host.strip("[]") for host in settings.hosts} | own)


def _refuse_foreign_hosts(names: frozenset[str]) -> None:
    if not is_our_host(request.host, names):
        raise BadRequest(
            f"The host {request.host!r} is not this service. Ask for localhost or 127.0.0.1, "
            "or have the service told of that name by AERIAL_ASSAY_HOSTS."
        )


def _refuse_foreign_pages() -> None:
    if request.method not in WITH_BODY:
        return
    site = request.headers.get("Sec-Fetch-Site", "none").lower()
    origin = request.headers.get("Origin")
    if origin == "null" and site == "same-origin":
        return  # a form of our own pages: they send no referrer, so browsers hide their origin (Fetch, 3.2)
    foreign = origin is not None and urlsplit(origin).netloc.lower() != request.host.lower()
    if foreign or site not in {"none", "same-origin"}:
        raise Forbidden(f"A page of another site ({origin or site}) may not send this.")


def _refuse_encoded_bodies() -> None:
    encoding = request.headers.get("Content-Encoding", "identity").lower()
    if request.method in WITH_BODY and encoding != "identity":
        raise UnsupportedMedia(
            f"A body in the encoding {encoding!r} is not read. Send it as it is, without Content-Encoding.",
            headers={"Accept-Encoding": "identity", "Accept-Post": accept_post()},
        )


def _with_security_headers(response: Response) -> Response:
    for name, value in SECURITY_HEADERS.items():
        response.headers.setdefault(name, value)
    return response
