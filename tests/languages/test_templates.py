"""Every word of a template is a message: it holds no bare letters where people read, and styles hold none."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.languages.collecting import ROOMS, ROOT

TEMPLATES = sorted(path for room in ROOMS for path in (ROOT / room / "templates").glob("*.html"))
STYLES = sorted(path for room in ROOMS for path in (ROOT / room).rglob("*.css"))
READ = {
    "aria-label",
    "aria-description",
    "aria-roledescription",
    "aria-valuetext",
    "title",
    "alt",
    "placeholder",
}
UNREAD = {"script", "style", "code"}
"""What stands in these a program reads, or a person types for one."""
NAME = "Aerial Assay"
_EXPRESSION = re.compile(r"\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\}", re.DOTALL)
_LETTER = re.compile(r"[^\W\d_]")


class Reader(HTMLParser):
    """Gathers what a template would say in no other language: texts, and attributes that people read."""

    def __init__(self) -> None:
        super().__init__()
        self.bare: list[str] = []
        self.silent = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.silent = tag in UNREAD
        given = {name: value or "" for name, value in attrs}
        read = [text for name, text in given.items() if name in READ or is_told(name, text)]
        if tag == "meta" and given.get("name") == "description":
            read.append(given.get("content", ""))
        if tag == "input" and given.get("type") in {"submit", "button", "reset"}:
            read.append(given.get("value", ""))
        if tag in {"option", "optgroup", "track"}:
            read.append(given.get("label", ""))
        for text in read:
            self.take(text)

    def handle_endtag(self, tag: str) -> None:
        self.silent = self.silent and tag not in UNREAD

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.take(data)

    def take(self, text: str) -> None:
        if _LETTER.search(text.replace(NAME, "")):
            self.bare.append(text.strip())


def is_told(name: str, text: str) -> bool:
    """Whether an attribute is a sentence that a script shows."""
    return name.startswith("data-") and " " in text.strip()


def bare(template: str) -> list[str]:
    """What stands bare in the text of a template."""
    reader = Reader()
    reader.feed(_EXPRESSION.sub("", template))
    reader.close()
    return reader.bare


def words_shown(style: str) -> list[str]:
    """The texts with letters that a style sheet puts into the page itself."""
    texts = [
        text for shown in re.findall(r"content:([^;}]*)", style) for text in re.findall(r'"([^"]*)"', shown)
    ]
    return [text for text in texts if _LETTER.search(text.replace(NAME, ""))]


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda path: f"{path.parents[1].name}/{path.name}")
def test_a_template_holds_no_bare_words(template: Path):
    assert bare(template.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("style", STYLES, ids=lambda path: path.name)
def test_a_style_puts_no_words_into_a_page(style: Path):
    assert words_shown(style.read_text(encoding="utf-8")) == []


def test_there_are_templates_and_styles_of_both_rooms():
    for paths in (TEMPLATES, STYLES):
        assert {room for room in ROOMS for path in paths if path.is_relative_to(ROOT / room)} == set(ROOMS)


@pytest.mark.parametrize(
    ("template", "found"),
    [
        ('<h2>{{ _("The plan") }}</h2>', []),
        ("<h2>The plan</h2>", ["The plan"]),
        ("<p>{{ page.number }} runs</p>", ["runs"]),
        ('<section aria-label="Run {{ run.number }}">', ["Run"]),
        ('<section aria-label="{{ _("Run {number}", number=run.number) }}">', []),
        ('<img alt="a mast">', ["a mast"]),
        ('<input placeholder="a name">', ["a name"]),
        ('<input type="submit" value="Send">', ["Send"]),
        ('<input type="hidden" value="code">', []),
        ('<meta name="description" content="A trial">', ["A trial"]),
        ('<meta name="viewport" content="width=device-width">', []),
        ('<optgroup label="Units">', ["Units"]),
        ('<p class="maker">Aerial Assay <span>{{ frame.kind }}</span> 12 %</p>', []),
        ("<style>body { color: red }</style><p>red</p>", ["red"]),
        ('<p>{{ _("Type") }} <code>rod@1</code> here</p>', ["here"]),
        ('<p data-refused="not known here" data-scope="read"></p>', ["not known here"]),
    ],
)
def test_a_bare_word_is_seen(template: str, found: list[str]):
    assert bare(template) == found


@pytest.mark.parametrize(
    ("style", "found"),
    [
        ('p::before { content: "page " counter(page) }', ["page "]),
        ('p::before { content: ""; color: red }', []),
        ('p::before { content: attr(data-heading) } @top-right { content: "Aerial Assay" }', []),
    ],
)
def test_a_word_in_a_style_is_seen(style: str, found: list[str]):
    assert words_shown(style) == found
