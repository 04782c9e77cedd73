"""JUnit XML as the common readers take it: unique names, the sentence both as message and as text."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element, SubElement, tostring

PASSED, FAILED, SKIPPED = "passed", "failed", "skipped"
_NOT_IN_XML = re.compile("[^\t\n\r\\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_TIME: Final = "0.000"  # nothing here was timed; readers want a number


@dataclass(frozen=True)
class Case:
    """One test case: `text` says more than the `sentence`; `kind` names the way in which it failed."""

    classname: str
    name: str
    result: str
    sentence: str
    kind: str = ""
    text: str = ""


def written(suite: str, cases: Sequence[Case], properties: Sequence[tuple[str, str]] = ()) -> bytes:
    """One suite as an XML file; cases of the same class and name are numbered, since readers drop them."""
    counts = {
        "tests": str(len(cases)),
        "failures": str(sum(case.result == FAILED for case in cases)),
        "errors": "0",
        "skipped": str(sum(case.result == SKIPPED for case in cases)),
        "time": _TIME,
    }
    root = Element("testsuites", {"name": clean(suite), **counts})
    inner = SubElement(root, "testsuite", {"name": clean(suite), **counts})
    listed = SubElement(inner, "properties")
    for name, value in properties:
        SubElement(listed, "property", {"name": clean(name), "value": clean(value)})
    for case in _told_apart(cases):
        _add(inner, case)
    body: str = tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'.encode()


def clean(text: str) -> str:
    """The text without characters that XML cannot hold."""
    return _NOT_IN_XML.sub("\N{REPLACEMENT CHARACTER}", text)


def _told_apart(cases: Sequence[Case]) -> list[Case]:
    seen: set[tuple[str, str]] = set()
    found = []
    for case in cases:
        name, number = case.name, 1
        while (case.classname, name) in seen:
            number += 1
            name = f"{case.name} ({number})"
        seen.add((case.classname, name))
        found.append(Case(case.classname, name, case.result, case.sentence, case.kind, case.text))
    return found


def _add(suite: Element, case: Case) -> None:
    name = {"classname": clean(case.classname), "name": clean(case.name), "time": _TIME}
    entry = SubElement(suite, "testcase", name)
    text = clean("\n".join(part for part in (case.sentence, case.text) if part))
    if case.result == PASSED:
        SubElement(entry, "system-out").text = text
        return
    tag = {FAILED: "failure", SKIPPED: "skipped"}[case.result]
    told = {"message": clean(case.sentence)}
    if case.result == FAILED:
        told["type"] = case.kind
    SubElement(entry, tag, told).text = text
