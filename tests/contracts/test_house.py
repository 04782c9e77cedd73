"""The house rules that a parser can hold: sizes, nesting, arguments, names, catch-alls, unwanted words.

A function's length is counted from its `def` to its last line without its docstring, since long
documentation is wanted.
"""

import ast
import io
import re
import tokenize
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
ROOMS = ("service", "reports")
TEXT = {
    ".py",
    ".md",
    ".toml",
    ".json",
    ".csv",
    ".yml",
    ".html",
    ".jinja",
    ".css",
    ".txt",
    ".svg",
    ".typed",
    "",
}
COMPOUND = (ast.For, ast.While, ast.If, ast.With, ast.Try, ast.Match, ast.AsyncFor, ast.AsyncWith)
FUNCTION = (ast.FunctionDef, ast.AsyncFunctionDef)
UNWANTED_NAMES = {"utils", "util", "helpers", "helper", "common", "misc", "stuff"}
CATCH_ALL = {"Exception", "BaseException"}


def modules(*folders: str) -> list[Path]:
    return sorted(path for folder in folders for path in (ROOT / folder).rglob("*.py"))


def own_files() -> Iterator[Path]:
    """Every text file that belongs to the project, generated folders left out."""
    tops = [*ROOMS, "tests", "openapi", ".github", ".ci"]
    found = [path for top in tops for path in (ROOT / top).rglob("*")] + list(ROOT.glob("*.*"))
    for path in found:
        if path.is_file() and path.suffix in TEXT and "__pycache__" not in path.parts:
            yield path


def _text(path: Path) -> str:
    """A file's text; an example in another encoding than ours is one too."""
    return path.read_text(encoding="utf-8", errors="replace")


def trees(*folders: str) -> Iterator[tuple[Path, ast.Module]]:
    for path in modules(*folders):
        yield path.relative_to(ROOT), ast.parse(path.read_text(encoding="utf-8"))


def functions(*folders: str) -> Iterator[tuple[str, ast.FunctionDef | ast.AsyncFunctionDef]]:
    for path, tree in trees(*folders):
        for node in ast.walk(tree):
            if isinstance(node, FUNCTION):
                yield f"{path}:{node.lineno} {node.name}", node


def docstring_lines(node: ast.AST) -> int:
    first = node.body[0]
    if (
        isinstance(first, ast.Expr)
        and isinstance(first.value, ast.Constant)
        and isinstance(first.value.value, str)
    ):
        return first.end_lineno - first.lineno + 1
    return 0


def length(node: ast.AST) -> int:
    return node.end_lineno - node.lineno + 1 - docstring_lines(node)


def depth(node: ast.AST) -> int:
    """How many compound statements stand inside one another; an `elif` is no deeper than its `if`."""
    deepest = 0
    for child in ast.iter_child_nodes(node):
        if isinstance(child, (*FUNCTION, ast.ClassDef, ast.Lambda)):
            continue
        is_elif = isinstance(node, ast.If) and isinstance(child, ast.If) and [child] == node.orelse
        deepest = max(deepest, depth(child) + (isinstance(child, COMPOUND) and not is_elif))
    return deepest


def positional(node: ast.FunctionDef) -> list[str]:
    names = [argument.arg for argument in (*node.args.posonlyargs, *node.args.args)]
    return names[1:] if names[:1] in (["self"], ["cls"]) else names


def test_the_walk_finds_the_house():
    assert {path.relative_to(ROOT).parts[0] for path in modules(*ROOMS)} == set(ROOMS)
    assert ROOT / "README.md" in set(own_files())


def test_no_module_is_too_long_and_nearly_all_are_short():
    lines = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in modules(*ROOMS)}
    limit = {path: 300 if "statistics" in path.parts else 250 for path in lines}
    assert [f"{path}: {n}" for path, n in lines.items() if n > limit[path]] == []
    assert sum(n > 220 for n in lines.values()) <= 0.05 * len(lines)


def test_no_test_module_is_too_long():
    lines = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in modules("tests")}
    assert [f"{path}: {n}" for path, n in lines.items() if n > 300] == []


def test_no_function_is_too_long_and_nearly_all_are_short():
    lengths = {name: length(node) for name, node in functions(*ROOMS)}
    assert {name: n for name, n in lengths.items() if n > 45} == {}
    long = {name: n for name, n in lengths.items() if n >= 25}
    assert len(long) <= 0.05 * len(lengths), long


def test_nesting_is_at_most_three():
    assert {name: depth(node) for name, node in functions(*ROOMS, "tests") if depth(node) > 3} == {}


def test_arguments_are_few_and_the_fourth_of_a_public_function_is_named_by_the_caller():
    given = {name: positional(node) for name, node in functions(*ROOMS)}
    assert {name: names for name, names in given.items() if len(names) > 4} == {}
    public = {name: names for name, names in given.items() if not name.split()[1].startswith("_")}
    assert {name: names for name, names in public.items() if len(names) > 3} == {}


def test_no_module_or_folder_has_a_name_that_says_nothing():
    names = {
        part for path in modules(*ROOMS, "tests") for part in path.relative_to(ROOT).with_suffix("").parts
    }
    assert names & UNWANTED_NAMES == set()


def test_no_state_is_kept_in_modules():
    offenders = []
    for path, tree in trees(*ROOMS):
        offenders += [
            f"{path}:{node.lineno} global" for node in ast.walk(tree) if isinstance(node, ast.Global)
        ]
        for node in tree.body:
            if isinstance(node, ast.Assign) and isinstance(node.value, ast.List | ast.Dict | ast.Set):
                names = [target.id for target in node.targets if isinstance(target, ast.Name)]
                offenders += [
                    f"{path}:{node.lineno} {name}" for name in names if not name.strip("_").isupper()
                ]
    assert [line for line in offenders if "__all__" not in line] == []


def catches_everything(node: ast.ExceptHandler) -> bool:
    caught = node.type.elts if isinstance(node.type, ast.Tuple) else [node.type]
    return any(kind is None or (isinstance(kind, ast.Name) and kind.id in CATCH_ALL) for kind in caught)


def listed_for_developers(heading: str) -> list[str]:
    """What the first column of the table below a heading of DEVELOPERS.md names."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = page.split(f"\n## {heading}\n", 1)[1].split("\n## ")[0]
    return re.findall(r"^\| `([^`]+)`", section, flags=re.MULTILINE)


def test_catch_alls_are_few_and_each_is_named_for_developers():
    found = [
        path.as_posix()
        for path, tree in trees(*ROOMS)
        for node in ast.walk(tree)
        if isinstance(node, ast.ExceptHandler) and catches_everything(node)
    ]
    assert sorted(found) == sorted(listed_for_developers("Catch-all excepts"))
    assert len(found) <= 3


def lint_exceptions() -> Iterator[tuple[str, list[str], str]]:
    """Every comment that silences a check: its place, the codes it silences, the reason behind them."""
    silenced = re.compile(r"#\s*(?:noqa:|noqa|type: ignore)\s*\[?([\w, -]*)\]?(.*)$")
    for path in modules(*ROOMS, "tests"):
        source = path.read_text(encoding="utf-8")
        for token in tokenize.generate_tokens(io.StringIO(source).readline):
            found = silenced.search(token.string) if token.type == tokenize.COMMENT else None
            if found:
                codes = re.findall(r"[\w-]+", found[1])
                yield f"{path.relative_to(ROOT)}:{token.start[0]}", codes, found[2].strip(" #()")


def test_every_lint_exception_has_a_reason_beside_it_or_in_the_list_for_developers():
    explained = set(listed_for_developers("Lint exceptions"))
    bare = [
        place
        for place, codes, reason in lint_exceptions()
        if not codes or not (reason or set(codes) <= explained)
    ]
    assert bare == []


@pytest.mark.parametrize(
    "pattern",
    [
        pytest.param(r"\b(?:TO" r"DO|FIX" r"ME|XX" r"X|HA" r"CK)\b", id="unfinished work"),
        pytest.param(r"(?<![\w.])/(?:wo" r"rk|ho" r"me|ro" r"ot|Us" r"ers)/\w", id="a path of one machine"),
        pytest.param(r"^(?:<{7}|>{7}) ", id="a conflict mark"),
    ],
)
def test_no_file_holds(pattern):
    finder = re.compile(pattern, flags=re.MULTILINE)
    assert [str(path) for path in own_files() if finder.search(_text(path))] == []


def test_the_measures_see_what_they_should_see():
    source = '''def f(a, b):
    """One.

    Two.
    """
    if a:
        pass
    elif b:
        for c in b:
            with c:
                pass
'''
    node = ast.parse(source).body[0]
    assert (length(node), depth(node), positional(node)) == (7, 3, ["a", "b"])
