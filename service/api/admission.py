"""Whether a request comes in, and as whose: tokens, failed attempts, requests a minute.

On the loopback address nobody is asked for a token unless the settings say so; a token that is given is
looked at all the same. Elsewhere every route wants one, but for those that a `Noun` opens to all.
"""

import math
from collections.abc import Callable
from ipaddress import IPv4Address, ip_address, ip_network
from typing import NoReturn, Protocol

from flask import current_app, request

from service.api.access import admit, require
from service.api.allowances import Allowance
from service.api.noun import OPEN
from service.errors import TokenWanted, TooMany
from service.settings import Settings, is_loopback

FAILURES_A_MINUTE = 10
MINUTE = 60.0
READING = frozenset({"GET", "HEAD"})
CHALLENGE = 'Bearer realm="aerial-assay"'


class Holder(Protocol):
    """Whose token it is and what it may."""

    @property
    def token(self) -> str:
        """The id of the token, which is no secret."""

    @property
    def owner(self) -> str:
        """Whose requests these are."""

    @property
    def may(self) -> str:
        """One of `service.settings.SCOPES`."""


Holders = Callable[[str], Holder | None]
"""The holder of a token that is valid now, None for any other text."""


def scope_wanted() -> str:
    """What the present request wants to be allowed: what its route declares, else what its method does."""
    view = current_app.view_functions.get(request.endpoint or "")
    return getattr(view, "may", None) or ("read" if request.method in READING else "write")


class Admission:
    """Lets requests in, or raises TokenWanted, NotAllowed or TooMany."""

    def __init__(self, settings: Settings, holders: Holders):
        self._required = settings.tokens_required()
        self._holders = holders
        self._failures = Allowance(FAILURES_A_MINUTE, seconds=MINUTE)
        self._requests = Allowance(settings.limits.requests_per_minute, seconds=MINUTE)

    def check(self) -> None:
        """Look at the present request."""
        wanted = scope_wanted()
        if wanted == OPEN:
            return admit("", "read")
        secret = _bearer()
        if secret is None and not self._required and is_loopback(request.remote_addr or "localhost"):
            return admit("", "admin")
        if secret is None and _asks_for_token():
            raise _token_wanted(given=False)  # a browser cannot know yet; the page that it gets asks for one
        holder = self._holder(secret)
        self._count(holder.token)
        admit(holder.owner, holder.may)
        return require(wanted)

    def _holder(self, secret: str | None) -> Holder:
        address = _network(request.remote_addr or "")
        if wait := self._failures.used_up(address):
            _refuse_for(wait, f"{FAILURES_A_MINUTE} requests without a valid token came from this address")
        holder = self._holders(secret) if secret is not None else None
        if holder is None:
            self._failures.take(address)
            raise _token_wanted(given=secret is not None)
        return holder

    def _count(self, token: str) -> None:
        if wait := self._requests.take(token):
            _refuse_for(wait, f"A token may ask {self._requests.most} times a minute")


def _asks_for_token() -> bool:
    """Whether the present request is for a page that asks for the token where none comes with it."""
    return bool(getattr(current_app.view_functions.get(request.endpoint or ""), "asks_for_token", False))


def _bearer() -> str | None:
    """The token of the Authorization header; None without one, and for any other scheme."""
    scheme, _, secret = request.headers.get("Authorization", "").partition(" ")
    return secret.strip() if scheme.lower() == "bearer" else None


def _network(address: str) -> str:
    """What counts as one address: whoever has one of IPv6 has its whole network of 64 bits."""
    try:
        parsed = ip_address(address)
    except ValueError:
        return address
    if isinstance(parsed, IPv4Address):
        return address
    return str(parsed.ipv4_mapped or ip_network((parsed, 64), strict=False))


def _token_wanted(*, given: bool) -> TokenWanted:
    remedy = "Send the header Authorization: Bearer aa_..., with a token that `aerial-assay token add` gave."
    if not given:
        return TokenWanted(f"A token is wanted here. {remedy}", headers={"WWW-Authenticate": CHALLENGE})
    told = "This token is not known, was revoked or has expired."
    return TokenWanted(
        f"{told} {remedy}", headers={"WWW-Authenticate": f'{CHALLENGE}, error="invalid_token"'}
    )


def _refuse_for(seconds: float, why: str) -> NoReturn:
    wait = max(1, math.ceil(seconds))
    raise TooMany(f"{why}. Wait {wait} seconds.", headers={"Retry-After": str(wait)})
