"""Sentences in modules that no catalogue would ever see, because they do not stand in `say` or its like.

python -m tests.languages.unsaid [FOLDER OR FILE]...
"""

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.languages.collecting import KEYWORDS, ROOMS, ROOT

_WORDS = re.compile(r"[^\W\d_]{2,}[,;:]? [^\W\d_]+")
_WORD = re.compile(r"(?<![\w#.&/-])[^\W\d_]{2,}(?![\w/=-])")
_PASSED_BY = {"compile", "getLogger", "TypeVar", "warn", "NamedTuple"}


def unsaid(path: Path) -> list[tuple[int, str]]:
    """Line and text of every sentence, or text put together with words in it, that is not a message.

    Documentation, exceptions, patterns, type names, keys and what is compared with are no sentences.
    """
    return list(_in(ast.parse(path.read_text(encoding="utf-8"))))


def _in(node: ast.AST) -> Iterator[tuple[int, str]]:
    if isinstance(node, ast.Raise | ast.Assert) or _is_documentation(node):
        return
    if isinstance(node, ast.JoinedStr):
        text = "".join(part.value if isinstance(part, ast.Constant) else "{}" for part in node.values)
        if _WORD.search(text) or any(map(_says_a_message, ast.walk(node))):
            yield node.lineno, text  # babel does not look for messages inside of one
    elif isinstance(node, ast.Constant) and isinstance(node.value, str) and _WORDS.search(node.value):
        yield node.lineno, node.value
    for child in _within(node):
        yield from _in(child)


def _is_documentation(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _is_put_together(node: ast.AST | None) -> bool:
    return isinstance(node, ast.JoinedStr)


def _called(node: ast.AST) -> str:
    """The name of what is called, without that of its module; "" where nothing is called."""
    if not isinstance(node, ast.Call):
        return ""
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def _says_a_message(node: ast.AST) -> bool:
    return _called(node) in KEYWORDS and any(isinstance(value, ast.Constant) for value in node.args)


def _within(node: ast.AST) -> list[ast.AST]:
    """What may hold sentences of its own: not the messages of a call that says them, but what it places."""
    if isinstance(node, ast.Call):
        called = _called(node)
        if called in _PASSED_BY:
            return []
        messages = called in KEYWORDS
        given = [value for value in node.args if not (messages and isinstance(value, ast.Constant))]
        return [node.func, *given, *(keyword.value for keyword in node.keywords)]
    within = ast.iter_child_nodes(node)
    if isinstance(node, ast.Dict):
        return [part for part in (*node.keys, *node.values) if part in node.values or _is_put_together(part)]
    if isinstance(node, ast.JoinedStr | ast.Compare):
        return [child for child in within if not isinstance(child, ast.Constant)]
    return list(within)


def modules(places: list[Path]) -> list[Path]:
    """The modules there, in the order of their names."""
    return sorted(path for place in places for path in ([place] if place.suffix else place.rglob("*.py")))


if __name__ == "__main__":
    for module in modules([Path(name).resolve() for name in sys.argv[1:]] or [ROOT / room for room in ROOMS]):
        for line, text in unsaid(module):
            print(f"{module.relative_to(ROOT)}:{line}: {text}")
