"""What a page's context holds is rendered, what a template names is there, and templates decide nothing."""

import dataclasses
import re
import types
import typing
from pathlib import Path

import pytest
from jinja2 import nodes

import reports.plans.view
import reports.view.model
import service.pages.board_parts
import service.pages.plan_parts
import service.pages.verdict_parts
from service.pages import (
    answering,
    board,
    check_page,
    check_question,
    enter_names,
    entry_page,
    error_rates_page,
    kept_list,
    kept_trial,
    plan_page,
    plan_question,
    start,
    troubles,
)

TEMPLATES = Path(answering.__file__).parent / "templates"
OURS = "service.pages"
PAGES = {
    "start.html": start.ReadingsForm,
    "verdict.html": start.VerdictPage,
    "trial_list.html": kept_list.TrialList,
    "new_trial.html": kept_list.NewTrial,
    "trial.html": kept_trial.TrialPage,
    "enter_run.html": entry_page.EntryPage,
    "enter_names.html": enter_names.NamesPage,
    "board.html": board.BoardPage,
    "plan_form.html": plan_question.PlanForm,
    "plan.html": plan_page.PlanPage,
    "check_form.html": check_question.CheckQuestion,
    "check_found.html": check_page.CheckPage,
    "error_rates.html": error_rates_page.RatesPage,
    "error.html": troubles.Trouble,
    "token_wanted.html": troubles.Trouble,
}
RENDERED_ELSEWHERE = {
    "token_wanted.html": {"Trouble.places", "Trouble.ids"},
    "verdict.html": {"Place.where", "Place.given", "Place.detail"},
}
"""Fields that a template need not show: others that get the same context do."""
ELSEWHERE = (
    vars(reports.view.model)
    | vars(reports.plans.view)
    | vars(service.pages.verdict_parts)
    | vars(service.pages.board_parts)
    | vars(service.pages.plan_parts)
)


def fields_of(kind: type) -> dict[str, object]:
    """The fields of a dataclass with their types."""
    module = vars(__import__(kind.__module__, fromlist=["x"]))
    hints = typing.get_type_hints(kind, ELSEWHERE | module)
    return {field.name: hints[field.name] for field in dataclasses.fields(kind)}


class Reader:
    """Follows names through a template and what it includes; notes each field that is named."""

    def __init__(self) -> None:
        self.named: set[str] = set()
        self.met: set[type] = set()
        self.unknown: list[str] = []

    def read(self, template: str, scope: dict[str, object]) -> None:
        source, _, _ = answering.environment().loader.get_source(answering.environment(), template)
        for node in answering.environment().parse(source).body:
            self.visit(node, scope)

    def visit(self, node: nodes.Node, scope: dict[str, object]) -> None:
        if isinstance(node, nodes.Include):
            self.read(node.template.value, scope)
        elif isinstance(node, nodes.For):
            several = typing.get_args(self.type_of(node.iter, scope))
            for child in node.body:
                self.visit(child, scope | {node.target.name: several[0] if several else None})
        elif isinstance(node, nodes.Getattr | nodes.Name):
            self.type_of(node, scope)
        elif isinstance(node, nodes.Call):  # of the one function there is, `_`
            for child in (*node.args, *node.kwargs):
                self.visit(child, scope)
        else:
            for child in node.iter_child_nodes():
                self.visit(child, scope)

    def type_of(self, node: nodes.Node, scope: dict[str, object]) -> object:
        if isinstance(node, nodes.Name):
            if node.name not in scope:
                self.unknown.append(node.name)
            return scope.get(node.name)
        owner = self.type_of(node.node, scope)
        kinds = typing.get_args(owner) if isinstance(owner, types.UnionType) else (owner,)
        return next(self.field(kind, node.attr) for kind in kinds)

    def field(self, kind: object, name: str) -> object:
        if not dataclasses.is_dataclass(kind) or name not in fields_of(kind):
            self.unknown.append(f"{kind}.{name}")
            return None
        self.met.add(kind)
        self.named.add(f"{kind.__name__}.{name}")
        return fields_of(kind)[name]


@pytest.mark.parametrize("template", PAGES)
def test_every_field_of_a_page_is_rendered_and_every_name_is_a_field(template):
    reader = Reader()
    reader.read(template, {"page": PAGES[template], "frame": answering.Frame})
    assert reader.unknown == []
    ours = {kind for kind in reader.met if kind.__module__.startswith(OURS)}
    documented = {f"{kind.__name__}.{name}" for kind in ours for name in fields_of(kind)}
    assert documented - reader.named - RENDERED_ELSEWHERE.get(template, set()) == set()


def test_a_field_that_is_not_rendered_would_be_seen():
    reader = Reader()
    reader.read("place.html", {"place": troubles.Trouble})
    assert reader.unknown == [f"{troubles.Trouble}.{name}" for name in ("where", "given")]


def test_every_template_belongs_to_a_page_or_is_included_by_one():
    reached = set(PAGES)
    for _ in range(len(list(TEMPLATES.iterdir()))):
        for name in set(reached):
            text = (TEMPLATES / name).read_text(encoding="utf-8") if (TEMPLATES / name).exists() else ""
            reached |= set(re.findall(r'include "(\w+\.html)"', text))
    assert {path.name for path in TEMPLATES.iterdir()} - reached == set()


PLACED = r"(?:, \w+=(?:[\w.]+|\"[^\"]*\"))*"
ALLOWED = re.compile(
    r"\{% (for \w+ in [\w.]+|endfor|include \"\w+\.html\") %\}"  # loops and includes
    rf"|\{{\{{ (?:[\w.]+|_\(\"[^\"]+\"{PLACED}\)) \}}\}}"  # names and messages
)


def more_than_allowed(text: str) -> list[str]:
    """What stands between braces in a template and is no loop, include, name or message."""
    return re.findall(r"\{[%{#].*", ALLOWED.sub("", text))


def test_templates_hold_loops_includes_names_and_messages_only():
    for template in TEMPLATES.iterdir():
        assert more_than_allowed(template.read_text(encoding="utf-8")) == [], template.name


@pytest.mark.parametrize(
    "text",
    [
        "{% if page %}",
        "{{ page.title | upper }}",
        '{{ _("A") + _("B") }}',
        "{{ _(page.title) }}",
        '{{ say("A") }}',
    ],
)
def test_a_template_that_decides_something_would_be_seen(text):
    assert more_than_allowed(text) == [text]
