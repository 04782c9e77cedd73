"""The house rules that a parser can hold: sizes, nesting, arguments, names, catch-alls, unwanted words.

A function's length is counted from its `def` to its last line without its docstring, since long
documentation is wanted.
"""

import ast
import io
import itertools
import re
import tokenize
from collections.abc import Iterator
from functools import cache
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


@cache
def tree_of(path: Path) -> ast.Module:
    """What a file says; parsed once for all these tests."""
    return ast.parse(path.read_text(encoding="utf-8"))


def trees(*folders: str) -> Iterator[tuple[Path, ast.Module]]:
    for path in modules(*folders):
        yield path.relative_to(ROOT), tree_of(path)


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
    depths = {name: depth(node) for name, node in functions(*ROOMS, "tests")}
    assert {name: found for name, found in depths.items() if found > 3} == {}


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


SILENCED = re.compile(r"#\s*(?:noqa|type: ignore)\b:?\s*\[?([A-Z]+\d+(?:, [A-Z]+\d+)*|[\w, -]*)\]?(.*)$")
NOT_USED = re.compile(r"#\s*(?:pragma: no|fmt: o|isort:|nosec|ruff:|mypy:|pyright:|pylint:)")
"""Ways to silence a check that nothing here needs."""
IN_WORDS = re.compile(r"[a-z]+ .*[a-z]")


def comments(*folders: str) -> Iterator[tuple[str, str]]:
    """Every comment with its place."""
    for path in modules(*folders):
        source = path.read_text(encoding="utf-8")
        for token in tokenize.generate_tokens(io.StringIO(source).readline):
            if token.type == tokenize.COMMENT:
                yield f"{path.relative_to(ROOT)}:{token.start[0]}", token.string


def lint_exception(comment: str) -> tuple[list[str], str] | None:
    """The codes that a comment silences and the reason behind them; None for a comment that is one."""
    found = SILENCED.search(comment)
    return None if found is None else (re.findall(r"[\w-]+", found[1]), found[2].strip(" #()"))


def has_reason(codes: list[str], reason: str, explained: set[str]) -> bool:
    """Whether the codes are named, and why is said in words: beside them, or in the list of `explained`."""
    return bool(codes) and (IN_WORDS.search(reason) is not None or set(codes) <= explained)


def test_every_lint_exception_has_a_reason_beside_it_or_in_the_list_for_developers():
    explained = set(listed_for_developers("Lint exceptions"))
    found = [
        (place, silenced)
        for place, text in comments(*ROOMS, "tests", "openapi")
        if (silenced := lint_exception(text)) is not None
    ]
    assert found
    assert [place for place, silenced in found if not has_reason(*silenced, explained)] == []


def test_a_reason_that_is_none_would_be_seen():
    explained = {"S314"}
    given = {
        "# noqa: ARG001 (every caution takes the facts)": True,
        "# type: ignore[misc] # the library has no types": True,
        "# noqa: S314": True,
        "# noqa: F401": False,
        "# noqa: F401 (frozen)": False,
        "# type: ignore[misc]": False,
        "# noqa": False,
        "# type: ignore": False,
    }
    found = {comment: has_reason(*lint_exception(comment), explained) for comment in given}
    assert found == given
    assert lint_exception("# the same note as above") is None


def test_lint_exceptions_of_the_program_are_no_more_than_developers_are_told():
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    told = re.search(r"The program has at most (\d+) of them", " ".join(page.split()))
    assert 0 < len([text for _, text in comments(*ROOMS) if lint_exception(text)]) <= int(told[1])


def test_no_check_is_silenced_in_another_way():
    assert [place for place, text in comments(*ROOMS, "tests", "openapi") if NOT_USED.search(text)] == []


def test_rules_that_are_switched_off_for_all_have_their_reason():
    """In the settings of the lint: behind the rule, or in a comment above it."""
    settings = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    ignored = settings.split("\nignore = [\n")[1].split("]")[0].splitlines()
    by_place = settings.split("[tool.ruff.lint.per-file-ignores]\n")[1].split("\n\n")[0].splitlines()
    bare = [line for line in ignored if "#" not in line]
    for above, line in itertools.pairwise(["", *by_place]):
        if not line.startswith("#") and "#" not in line and not above.startswith("#"):
            bare.append(line)
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
