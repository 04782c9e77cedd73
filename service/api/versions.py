"""Versions as entity tags: what is changed must be what the caller read."""

from flask import Response, request

from service.errors import VersionWanted


def wanted_version() -> int | None:
    """The version that the present request is meant for; None for any (`If-Match: *`).

    Raises VersionWanted where If-Match is missing. A tag that is none of ours counts as a version that never
    was.
    """
    tags = request.if_match
    if "If-Match" not in request.headers:
        raise VersionWanted(
            "This change must say what it changes: send the ETag that GET answered in If-Match, or * for any."
        )
    if tags.star_tag:
        return None
    numbers = [int(tag) for tag in tags.as_set() if tag and tag.isascii() and tag.isdigit() and len(tag) < 10]
    return numbers[0] if len(numbers) == 1 else 0


def tagged(response: Response, version: int) -> Response:
    """The answer with the version as its entity tag."""
    response.set_etag(str(version))
    return response
