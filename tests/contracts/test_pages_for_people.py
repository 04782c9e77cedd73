"""README and DEVELOPERS.md name nothing that is not there: links, names in code, commands, options."""

import ast
import contextlib
import io
import os
import re
import runpy
import sys
import tomllib
from importlib.util import find_spec
from pathlib import Path

import click
import pytest

from service.__main__ import command as aerial_assay

ROOT = Path(__file__).parents[2]
PAGES = ("README.md", "DEVELOPERS.md")
ROOMS = ("service", "reports", "tests")
PROGRAMS = ROOT, *(ROOT / room for room in ROOMS)
FROM_ELSEWHERE = {"mutmut", "pip"}
ENDINGS = (".py", ".md", ".json", ".html", ".js", ".toml", ".css")
_PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
EXTRAS = set(_PROJECT["project"]["optional-dependencies"])
MARKERS = {line.partition(":")[0] for line in _PROJECT["tool"]["pytest"]["ini_options"]["markers"]}


def text_of(page: str) -> str:
    return (ROOT / page).read_text(encoding="utf-8")


def quoted(page: str) -> list[str]:
    """What stands in back-quotes, each once, broken lines joined; fenced blocks left out."""
    running = re.sub(r"^```.*?^```$", "", text_of(page), flags=re.MULTILINE | re.DOTALL)
    return list(dict.fromkeys(" ".join(found.split()) for found in re.findall(r"`([^`]+)`", running)))


def commands(page: str) -> list[str]:
    """Those that are typed, and the lines of fenced blocks that begin with one of our programs."""
    begins = re.compile(
        r"(?:\w+=\S+ )*(?:\.venv/bin/\S+|python -m|-m tests|pip|mutmut|\.ci/|aerial-assay \w)"
    )
    fenced = re.findall(r"^ *(\.venv/bin/.*)$", text_of(page), flags=re.MULTILINE)
    return [text for text in (*quoted(page), *fenced) if begins.match(text)]


def found_at(name: str) -> list[Path]:
    """Where a path leads that is named from the root or from within a room."""
    within = (*PROGRAMS, *(folder for room in ROOMS for folder in (ROOT / room).iterdir() if folder.is_dir()))
    return [path for folder in within for path in (*folder.glob(name), *folder.glob(f"{name}.py"))]


def words_of_the_code() -> set[str]:
    files = [
        path for room in ROOMS for path in (ROOT / room).rglob("*") if path.suffix in {".py", ".html", ".js"}
    ]
    files += [ROOT / "pyproject.toml", ROOT / "openapi" / "analysis-document.schema.json"]
    names = {part for path in files for part in path.relative_to(ROOT).with_suffix("").parts}
    return names.union(*(re.findall(r"[\w-]+", path.read_text(encoding="utf-8")) for path in files))


@pytest.mark.parametrize("page", PAGES)
def test_every_link_leads_to_a_file_and_a_heading_that_is_there(page):
    for target in re.findall(r"\]\(([^)]+)\)", text_of(page)):
        assert "://" not in target, target
        name, _, anchor = target.partition("#")
        linked = ROOT / (name or page)
        assert linked.exists(), target
        headings = (
            re.findall(r"^#+ (.*)$", linked.read_text(encoding="utf-8"), re.MULTILINE) if anchor else []
        )
        assert not anchor or anchor in {
            re.sub(r"[^\w -]", "", one).lower().replace(" ", "-") for one in headings
        }


def test_every_name_in_back_quotes_occurs_in_the_code():
    known = words_of_the_code()
    named = [text for text in quoted("DEVELOPERS.md") if re.fullmatch(r"[\w-]+", text)]
    assert len(named) > 60
    assert [name for name in named if name not in known] == []
    dotted = [text for text in quoted("DEVELOPERS.md") if re.fullmatch(r"\w+(?:\.\w+)+", text)]
    parts = {part for name in dotted for part in name.split(".") if not name.endswith(ENDINGS)}
    assert sorted(parts - known) == []


def test_what_is_said_to_stand_in_a_module_stands_there():
    running = " ".join(text_of("DEVELOPERS.md").split())
    said = re.findall(r"`(\w+)`(?: stands)? (?:of|in) `([\w/]+\.py)`", running)
    assert len(said) > 8
    for name, module in said:
        assert any(
            re.search(rf"\b{name}\b", path.read_text(encoding="utf-8")) for path in found_at(module)
        ), name


def help_of(module: str, monkeypatch: pytest.MonkeyPatch) -> str:
    """What a program that takes options says of them, or its documentation, which tells how it is called."""
    source = Path(find_spec(module).origin).read_text(encoding="utf-8")
    assert '__name__ == "__main__"' in source, module
    if "parse_args" not in source:
        return ast.get_docstring(ast.parse(source)) or ""
    monkeypatch.setattr(sys, "argv", [module, "--help"])
    monkeypatch.delitem(sys.modules, module, raising=False)  # run anew, it would be warned of
    said = io.StringIO()
    with contextlib.redirect_stdout(said), pytest.raises(SystemExit) as ended:
        runpy.run_module(module, run_name="__main__")
    assert ended.value.code == 0
    return said.getvalue()


def in_modules() -> list[tuple[str, str]]:
    """Module and what is given to it, of every command that runs one of our own."""
    told = [text for page in PAGES for text in commands(page)]
    return sorted({found for text in told for found in re.findall(r"-m (tests\.[\w.]+)([^;]*)", text)})


@pytest.mark.parametrize(("module", "given"), in_modules())
def test_a_module_that_is_run_is_a_program_and_knows_the_options(module, given, monkeypatch):
    said = help_of(module, monkeypatch)
    assert [option for option in re.findall(r"--[\w-]+", given) if option not in said] == []


@pytest.mark.parametrize("text", [text for page in PAGES for text in commands(page)])
def test_a_command_is_one_that_there_is(text):
    bare = re.sub(r"^(?:\w+=\S+ )+", "", text)
    first, *given = bare.split()
    if first.startswith(".ci/"):
        assert os.access(ROOT / first, os.X_OK)
    elif first.startswith(".venv/bin/"):
        assert Path(sys.executable).with_name(Path(first).name).exists()
    else:
        assert first in {"python", "-m", "aerial-assay", *FROM_ELSEWHERE}
    assert {one for each in re.findall(r"\.\[([\w,]+)\]", text) for one in each.split(",")} <= EXTRAS
    assert set(re.findall(r"pytest -m (\w+)", text)) <= MARKERS
    scripts = [one for one in given if one.startswith(("tests/", "openapi/"))]
    assert [one for one in scripts if not (ROOT / one).exists()] == []


def asked() -> list[str]:
    """Every call of our own command."""
    told = [text for page in PAGES for text in commands(page)]
    return sorted({found for text in told for found in re.findall(r"aerial-assay (\w.*)", text)})


@pytest.mark.parametrize("text", asked())
def test_our_own_command_has_what_it_is_asked_for(text):
    part: click.Command = aerial_assay
    words = text.split()
    while words and isinstance(part, click.Group):
        part = part.commands[words.pop(0)]
    known = {name for option in part.params for name in option.opts}
    assert {word for word in words if word.startswith("--")} <= known


def test_every_row_of_the_checks_has_a_command():
    table = text_of("DEVELOPERS.md").split("\n## Checks\n\n")[1].split("\n\n")[0]
    every = commands("DEVELOPERS.md")
    rows = [row.split(" | ") for row in table.splitlines()[2:]]
    assert len(rows) > 15
    assert [row[0] for row in rows if not any(text in row[-1] for text in every)] == []
