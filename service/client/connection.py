"""HTTP to a service: at a URL, or to an application in this process."""

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from service.client.packages import Package
from service.client.trouble import Trouble, problem_trouble

if TYPE_CHECKING:
    import httpx
    from flask import Flask

HERE = "http://localhost"
ANSWER_SECONDS = 300.0
CONNECT_SECONDS = 10.0


class Service:
    """A service that answers over HTTP."""

    def __init__(self, http: "httpx.Client"):
        self._http = http

    def verdict(self, package: Package, query: Mapping[str, Any], *, form: str = "json") -> bytes:
        """The verdict on the package in a form.

        Raises Trouble with the places of a problem, or where nobody answers.
        """
        import httpx

        try:
            answer = self._http.post("/v1/verdicts", params={**query, "form": form}, **package.request())
        except httpx.HTTPError as error:
            why = str(error).rstrip(".")
            raise Trouble(f"No service answers at {self._http.base_url}: {why}.") from error
        if answer.is_success:
            return answer.content
        raise _refusal(answer, package)


@contextmanager
def connect(server: str | None, create_app: "Callable[[], Flask]") -> Iterator[Service]:
    """The service at the URL `server`, without one the application in this process.

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
    try:
        return httpx.Client(base_url=server, timeout=patience)
    except httpx.InvalidURL as error:
        raise Trouble(f"{server!r} is not a URL: {error}.") from error


def _refusal(answer: "httpx.Response", package: Package) -> Trouble:
    if not answer.headers.get("Content-Type", "").startswith("application/problem+json"):
        return Trouble(f"What answers there is not this service: status {answer.status_code}.")
    return problem_trouble(json.loads(answer.content), package.place_of_row)
