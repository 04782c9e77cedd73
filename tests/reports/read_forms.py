"""What a reader of each form reads, in each of the situations."""

import html
import re
from functools import cache

from reports.text import terminal_lines
from reports.wording import complete
from tests.reports import undrawn
from tests.reports.made_once import pages, report
from tests.reports.plain import visible
from tests.reports.sample_situations import SITUATIONS, Document

ESCAPED = re.compile(r"\\([\\`*_\[\]|~#$.:+=()-])")


@cache
def document_of(situation: str) -> Document:
    return complete(SITUATIONS[situation]())


@cache
def text_of(situation: str, form: str) -> str:
    """What a reader of the form reads, white space collapsed."""
    document = document_of(situation)
    if form == "terminal":
        return " ".join(" ".join(terminal_lines(document)).split())
    if form == "pdf":
        return " ".join(pages(document)).replace("- ", "-")
    if form == "html":
        return visible(undrawn.page(document))
    text = report(document, form).decode("utf-8-sig")
    if form == "markdown":
        bare = ESCAPED.sub(r"\1", html.unescape(text))
        text = re.sub(r"(?m)^\| |\*\*|^[-#]+ |^\d+\. | \|$", "", bare).replace(" | ", " ")
    return " ".join(text.split())


def missing(situation: str, form: str, *wanted: str) -> list[str]:
    text = text_of(situation, form)
    told = [" ".join(words.split()) for words in wanted]
    if form == "terminal":
        told = [words.replace("\u201c", '"').replace("\u201d", '"') for words in told]
    return [words for words in told if words.replace("- ", "-") not in text.replace("- ", "-")]
