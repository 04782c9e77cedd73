"""What a reader of a page sees: its text without marks, styles and scripts."""

import html
import re


def visible(page: str) -> str:
    """The text of a page, white space collapsed; alternative texts of pictures included."""
    body = page.split("<body>", 1)[1]
    pictures = " ".join(re.findall(r'alt="([^"]*)"', body))
    return html.unescape(
        " ".join((re.sub(r"<[^>]*>", " ", body.replace("<wbr>", "")) + " " + pictures).split())
    )


def first_page(page: str) -> str:
    """The text of the answer alone."""
    head, rest = page.split('<section class="answer"', 1)
    return visible(head + rest.split("</section>", 1)[0])
