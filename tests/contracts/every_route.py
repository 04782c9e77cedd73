"""All routes and pages of an application, each with the requests that reach it."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from flask import Flask

READ_ONLY = {"GET", "HEAD"}
VALUES = {"region": "europe", "name": "bad-input", "version": "0"}
"""What stands in a path where any text will do; an id is one of nothing that is kept."""
NOBODYS = "0" * 32
KEPT = ("trial_id", "analysis_id", "baseline_id")


@dataclass(frozen=True)
class Route:
    """A method of a rule. `scope` is what a token must hold; "open": no token is wanted."""

    method: str
    rule: str
    arguments: frozenset[str]
    endpoint: str
    scope: str

    def __str__(self) -> str:
        return f"{self.method} {self.rule}"

    def path(self, **values: str) -> str:
        """The path, with these values in it, or with others that will do."""
        path = self.rule
        for name in self.arguments:
            path = path.replace(f"<{name}>", values.get(name, VALUES.get(name, NOBODYS)))
        return path

    @property
    def is_page(self) -> bool:
        """Whether it answers a browser and not a program."""
        return self.endpoint.startswith("pages-")

    @property
    def of_kept(self) -> bool:
        """Whether its path names something that is kept."""
        return any(name in self.arguments for name in KEPT)

    def ask(
        self, client: Any, headers: dict[str, str] | None = None, body: object = None, **values: str
    ) -> Any:
        """The answer to a request, by default without a body."""
        sent = {} if body is None else {"json": body}
        return client.open(self.path(**values), method=self.method, headers=headers or {}, **sent)


def routes_of(app: Flask) -> Iterator[Route]:
    """Every route and page."""
    for rule in app.url_map.iter_rules():
        for method in sorted(rule.methods - {"HEAD", "OPTIONS"}):
            view = app.view_functions[rule.endpoint]
            scope = getattr(view, "may", None) or ("read" if method in READ_ONLY else "write")
            yield Route(method, rule.rule, frozenset(rule.arguments), rule.endpoint, scope)
