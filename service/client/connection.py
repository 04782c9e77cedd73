"""HTTP to a service: at a URL, or to an application in this process."""

import json
import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from service.client.packages import Package
from service.client.patience import LONGEST_PAUSE, Patience, Tries
from service.client.trouble import Trouble, problem_trouble

if TYPE_CHECKING:
    import httpx
    from flask import Flask

TOKEN = "AERIAL_ASSAY_TOKEN"  # noqa: S105 (the variable that holds it)
HERE = "http://localhost"
ANSWER_SECONDS = 300.0
CONNECT_SECONDS = 10.0
TRY_AGAIN = frozenset({409, 429, 502, 503, 504})
"""The statuses of answers that ask to send the same again."""
NO_FILE = Package(b"", "")


class Service:
    """A service that answers over HTTP."""

    def __init__(self, http: "httpx.Client"):
        self._http = http

    def verdict(self, package: Package, query: Mapping[str, Any], *, form: str = "json") -> bytes:
        """The verdict on the package in a form.

        Raises Trouble with the places of a problem, or where nobody answers.
        """
        asked = {"params": {**query, "form": form}, **package.request()}
        return self.answer("POST", "/v1/verdicts", package=package, **asked).content

    def answer(
        self,
        method: str,
        path: str,
        *,
        package: Package | None = None,
        tries: int = 1,
        patience: Patience | None = None,
        **asked: Any,
    ) -> "httpx.Response":
        """The answer to a request; `package` names the file of a line, further arguments are httpx's.

        With more than one try, or patience instead, it is sent again where nobody answers or the service asks
        for it. Raises Trouble with the places of a problem, or where nobody answers.
        """
        patience = patience or Tries(tries)
        answer: httpx.Response | None = None
        while answer is None:
            try:
                answer = self._http.request(method, path, **asked, **patience.bounds())
            except httpx_errors() as error:
                if not patience.again():
                    why = str(error).rstrip(".")
                    told = f"No service answers at {self._http.base_url}{patience.told()}: {why}."
                    raise Trouble(told) from error
                continue
            if answer.status_code in TRY_AGAIN and patience.again(_pause(answer)):
                answer = None
        if answer.is_success:
            return answer
        refusal = _refusal(answer, package)
        if answer.status_code in TRY_AGAIN and patience.told():
            raise Trouble(*refusal.lines, f"It was of no use to ask again{patience.told()}.")
        raise refusal


@contextmanager
def connect(server: str | None, create_app: "Callable[[], Flask]") -> Iterator[Service]:
    """The service at the URL `server`, without one the application in this process.

    The token that a service at a URL may want is taken from AERIAL_ASSAY_TOKEN.

    Raises Trouble for a URL that is none.
    """
    import httpx

    if server is not None:
        http = _client_of(server)
    else:
        transport = httpx.WSGITransport(app=create_app())
        http = httpx.Client(transport=transport, base_url=HERE, trust_env=False)
    with http:
        yield Service(http)


def _client_of(server: str) -> "httpx.Client":
    import httpx

    patience = httpx.Timeout(ANSWER_SECONDS, connect=CONNECT_SECONDS)
    token = os.environ.get(TOKEN)
    headers = {"Authorization": f"Bearer {token}"} if token else {}
    try:
        return httpx.Client(base_url=server, timeout=patience, headers=headers)
    except httpx.InvalidURL as error:
        raise Trouble(f"{server!r} is not a URL: {error}.") from error


def httpx_errors() -> "type[httpx.HTTPError]":
    """What httpx raises where nobody answers; the library is loaded when it is needed."""
    import httpx

    return httpx.HTTPError


def _pause(answer: "httpx.Response") -> float:
    """How long the service asks to wait, within bounds."""
    asked = answer.headers.get("Retry-After", "")
    return min(float(asked) if asked.isascii() and asked.isdigit() else 1.0, LONGEST_PAUSE)


def _refusal(answer: "httpx.Response", package: Package | None) -> Trouble:
    if not answer.headers.get("Content-Type", "").startswith("application/problem+json"):
        return Trouble(f"What answers there is not this service: status {answer.status_code}.")
    sent = package or NO_FILE
    return problem_trouble(json.loads(answer.content), sent.place_of_row, called=sent.called)
