"""A rendered report as an answer, with the policy that its own styles need."""

import base64
import hashlib
import re
from collections.abc import Mapping

from flask import Response

OUTCOME = "X-Outcome"
"""The header that tells what came of a check or a history, whatever the form."""
_ENDINGS: Mapping[str, str] = {
    "junit": "xml",
    "markdown": "md",
    "card": "png",
    "text": "txt",
    "summary": "txt",
}
_SAVED = frozenset({"csv", "xlsx"})
"""Forms for another program: a browser saves them, and shows all others."""
_STYLE = re.compile(rb"<style[^>]*>(.*?)</style>", re.DOTALL | re.IGNORECASE)


def report_answer(report: bytes, form: str, forms: Mapping[str, str], *, named: str) -> Response:
    """The report with its media type; a page may apply only the styles that stand in it, told by digest.

    forms: media type by form. named: the name of the file, without its ending.
    """
    media_type = forms[form]
    text = "; charset=utf-8" if media_type.startswith("text/") else ""
    response = Response(report, content_type=f"{media_type}{text}")
    if form == "html":
        response.headers["Content-Security-Policy"] = page_policy(report)
    else:
        way = "attachment" if form in _SAVED else "inline"
        file = f"{named}.{_ENDINGS.get(form, form)}"
        response.headers["Content-Disposition"] = f'{way}; filename="{file}"'
    return response


def page_policy(page: bytes) -> str:
    """The policy of a self-contained page: its own style elements, and pictures and fonts in data: URLs."""
    styles = " ".join(_source_of(style) for style in _STYLE.findall(page)) or "'none'"
    return (
        f"default-src 'none'; style-src {styles}; img-src data:; font-src data:; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


def _source_of(style: bytes) -> str:
    digest = base64.b64encode(hashlib.sha256(style).digest()).decode()
    return f"'sha256-{digest}'"
