"""Who asks, and what they may do.

The guard sets both before any view runs (`service.api.guards`). On the loopback address without tokens the
owner is "" and may everything.
"""

from flask import g

from service.errors import NotAllowed
from service.settings import SCOPES


def admit(owner: str, may: str) -> None:
    """Let the present request be that of `owner`, who may what the scope `may` holds."""
    g.owner = owner
    g.may = may


def owner() -> str:
    """Whose request this is; what is kept belongs to them, and others are told that it is not there."""
    return str(g.get("owner", ""))


def may() -> str:
    """The scope of the present request."""
    return str(g.get("may", "admin"))


def require(scope: str) -> None:
    """Raise NotAllowed where the request's scope does not hold `scope`."""
    if SCOPES.index(may()) < SCOPES.index(scope):
        raise NotAllowed(
            f"This token may {may()}, and {scope} is wanted here. "
            f"Use a token that was added with --may {scope}.",
            headers={"WWW-Authenticate": f'Bearer error="insufficient_scope", scope="{scope}"'},
        )
