"""The refusal of a body whose media type is not read here."""

from collections.abc import Iterable

from flask import request

from service.errors import UnsupportedMedia


def not_read(media_type: str, read: Iterable[str], remedy: str = "") -> UnsupportedMedia:
    """The error that names the media type given, those that are read, and a remedy beside them."""
    given = f"The media type {media_type!r}" if media_type else "A body without Content-Type"
    accepted = ", ".join(read)
    header = "Accept-Patch" if request.method == "PATCH" else "Accept-Post"
    sentences = f"{given} is not read here. What is read: {accepted}. {remedy}"
    return UnsupportedMedia(sentences.rstrip(), headers={header: accepted})
