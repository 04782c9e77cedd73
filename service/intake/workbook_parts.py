"""The parts of a workbook beside its cells: which sheets there are, its texts, and how its numbers are shown.

After ECMA-376, part 1 (Office Open XML): sections 18.2 (workbook), 18.4 (shared strings), 18.8 (styles).
"""

import posixpath
import re
from dataclasses import dataclass

from service.errors import BadRequest
from service.intake.workbook_archive import REMEDY, Archive, Handlers

RELATIONS = "_rels/.rels"
MAIN = "/officeDocument"
DATE_IDS = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}
"""Numbers of built-in formats that show dates or times (18.8.30; 27 to 58 in East Asian versions)."""
PERCENT_IDS = {9, 10}
NOT_SHOWN = re.compile(r'"[^"]*"|\\.|_.|\*.|\[(?!h+\]|m+\]|s+\])[^\]]*\]', re.IGNORECASE)
DATE_LETTERS = re.compile(r"[dmyhs]", re.IGNORECASE)
ESCAPE = re.compile(r"_x([0-9A-Fa-f]{4})_")
NUMBER, DATE, PERCENT = "number", "date", "percent"


@dataclass(frozen=True)
class Sheet:
    """A sheet of cells: its name, the part that holds it, and whether it is hidden."""

    name: str
    part: str
    is_hidden: bool


@dataclass(frozen=True)
class Parts:
    """What a workbook says beside its cells. `shows` tells for each style what its numbers are."""

    sheets: tuple[Sheet, ...]
    texts: tuple[str, ...]
    shows: tuple[str, ...]
    dates_from_1904: bool


def workbook_parts(archive: Archive) -> Parts:
    """The parts. Raises BadRequest for an archive that is no workbook."""
    main = next(
        (target for kind, target in _relations(archive, RELATIONS).values() if kind.endswith(MAIN)), ""
    )
    if not archive.has(main):
        raise BadRequest(f"This archive is no workbook (XLSX). {REMEDY}")
    folder, name = posixpath.split(main)
    relations = _relations(archive, posixpath.join(folder, "_rels", f"{name}.rels"))
    sheets, dates_from_1904 = _sheets(archive, main, relations)
    targets = {kind.rsplit("/", 1)[-1]: target for kind, target in relations.values()}
    return Parts(
        sheets,
        _texts(archive, targets.get("sharedStrings", "")),
        _shows(archive, targets.get("styles", "")),
        dates_from_1904,
    )


def unescaped(text: str) -> str:
    """A text with signs written as _x000D_ put in (18.4: ST_Xstring)."""
    return ESCAPE.sub(lambda found: chr(int(found[1], 16)), text) if "_x" in text else text


def local(name: str) -> str:
    """The name of an XML element or attribute without its prefix."""
    return name.rpartition(":")[2]


def _relations(archive: Archive, part: str) -> dict[str, tuple[str, str]]:
    """For each relation of a part its kind and the part that it leads to, by its id."""
    found: dict[str, tuple[str, str]] = {}
    folder = posixpath.dirname(posixpath.dirname(part))

    def start(name: str, given: dict[str, str]) -> None:
        if local(name) == "Relationship" and given.get("TargetMode") != "External":
            target = posixpath.normpath(posixpath.join("/", folder, given.get("Target", ""))).lstrip("/")
            found[given.get("Id", "")] = given.get("Type", ""), target

    if archive.has(part):
        archive.parse(part, {"StartElementHandler": start}).whole()
    return found


def _sheets(
    archive: Archive, main: str, relations: dict[str, tuple[str, str]]
) -> tuple[tuple[Sheet, ...], bool]:
    found: list[Sheet] = []
    flags = {"1904": False}

    def start(name: str, given: dict[str, str]) -> None:
        if local(name) == "workbookPr":
            flags["1904"] = given.get("date1904") in ("1", "true")
        if local(name) != "sheet":
            return
        key = next((value for each, value in given.items() if local(each) == "id" and ":" in each), "")
        kind, part = relations.get(key, ("", ""))
        if kind.endswith("/worksheet"):
            hidden = given.get("state", "visible") != "visible"
            found.append(Sheet(given.get("name", ""), part, hidden))

    archive.parse(main, {"StartElementHandler": start}).whole()
    return tuple(found), flags["1904"]


def _texts(archive: Archive, part: str) -> tuple[str, ...]:
    """The shared texts; how a text is pronounced (rPh) is no part of it."""
    texts: list[str] = []
    pieces: list[str] = []
    state = {"reads": False, "aside": False}

    def start(name: str, _: dict[str, str]) -> None:
        kind = local(name)
        if kind == "si":
            pieces.clear()
        state["aside"] = state["aside"] or kind == "rPh"
        state["reads"] = kind == "t" and not state["aside"]

    def end(name: str) -> None:
        kind = local(name)
        state["reads"] = False
        state["aside"] = state["aside"] and kind != "rPh"
        if kind == "si":
            texts.append(unescaped("".join(pieces)))

    def text(data: str) -> None:
        if state["reads"]:
            pieces.append(data)

    if archive.has(part):
        handlers: Handlers = {
            "StartElementHandler": start,
            "EndElementHandler": end,
            "CharacterDataHandler": text,
        }
        archive.parse(part, handlers).whole()
    return tuple(texts)


def _shows(archive: Archive, part: str) -> tuple[str, ...]:
    """What the numbers of each style (an entry of cellXfs) are shown as."""
    formats: dict[str, str] = {}
    styles: list[str] = []
    inside = {"cellXfs": False}

    def start(name: str, given: dict[str, str]) -> None:
        kind = local(name)
        if kind == "numFmt":
            formats[given.get("numFmtId", "")] = given.get("formatCode", "")
        inside["cellXfs"] = inside["cellXfs"] or kind == "cellXfs"
        if kind == "xf" and inside["cellXfs"]:
            styles.append(given.get("numFmtId", "0"))

    def end(name: str) -> None:
        inside["cellXfs"] = inside["cellXfs"] and local(name) != "cellXfs"

    if archive.has(part):
        archive.parse(part, {"StartElementHandler": start, "EndElementHandler": end}).whole()
    return tuple(_shown_as(style, formats.get(style)) for style in styles)


def _shown_as(number: str, code: str | None) -> str:
    if code is None:
        built_in = int(number) if number.isdigit() and len(number) < 9 else 0
        return DATE if built_in in DATE_IDS else PERCENT if built_in in PERCENT_IDS else NUMBER
    bare = NOT_SHOWN.sub("", code.split(";")[0])
    if "%" in bare:
        return PERCENT
    return DATE if DATE_LETTERS.search(bare.replace("General", "")) else NUMBER
