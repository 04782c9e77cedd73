"""A verdict as a page shows it: the answer first, then what the report says, without its largest pictures.

Drawing takes a second, so it is done where the other work is done; what is here travels there and back.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, Final
from urllib.parse import quote

from reports import charts
from reports.charts.pictures import Picture
from reports.language import marked, say
from reports.view import report_view
from reports.view.model import Bounds, Fact, Figure, Image, Report, Section
from reports.wording import worded

BOUNDS: Final = Bounds(rows=30, columns=10, picture_rows=16, picture_columns=8, channels=30)
WIDE, NARROW = 180.0, 92.0
FIRST: Final = ("one-scan",)
SHORTLY: Final = 2
"""Facts of how the readings were understood that stand beside the verdict."""
LEFT_OUT: Final = frozenset({"error-rates"})
"""Sections that have a page of their own."""
OF_REPORT: Final = marked("The picture of this stands in the report.")


@dataclass(frozen=True)
class VerdictParts:
    """A verdict on a page: the report's first page, what one scan is worth, cautions, the other sections."""

    report: Report
    read_as: tuple[Fact, ...]
    first: tuple[Section, ...]
    cautions: tuple[Section, ...]
    sections: tuple[Section, ...]


def verdict_parts(
    document: Mapping[str, Any], drawn: tuple[str, ...] = (), first: tuple[str, ...] = FIRST
) -> VerdictParts:
    """The parts of a completed analysis document; runs in the calling process.

    drawn: the kinds of pictures that are drawn beside that of the ranking. first: the sections that follow
    the answer.
    """
    pictures: list[Picture] = []
    report = report_view(worded(document), partial(_noted, pictures), BOUNDS)
    answer = replace(report.answer, figures=tuple(_drawn(one, pictures) for one in report.answer.figures))
    parts: dict[str, list[Section]] = {"first": [], "cautions": [], "sections": []}
    for section in report.sections:
        if section.anchor not in LEFT_OUT:
            place = "first" if section.anchor in first else "sections"
            part = "cautions" if section.anchor == "cautions" else place
            parts[part].append(_with_pictures(section, pictures, drawn))
    whole = replace(report, answer=answer, sections=())
    return VerdictParts(whole, _read_as(report), **{name: tuple(found) for name, found in parts.items()})


def picture_address(picture: Picture, width: float) -> str:
    """A data: address with the drawing as it is, so that packing the page packs it too."""
    drawing = charts.svg(picture, width=width, text_as="outlines")
    return f"data:image/svg+xml,{quote(drawing, safe='/:=;.-_')}"


def _read_as(report: Report) -> tuple[Fact, ...]:
    """How the readings were understood, in two lines; the section of that name tells the rest."""
    found = [section for section in report.sections if section.anchor == "understood"]
    return tuple(fact for section in found for group in section.facts for fact in group.facts)[:SHORTLY]


def drawn_at_once(picture: Picture) -> Image:
    """The picture, drawn for a wide and for a narrow screen."""
    return Image(picture_address(picture, WIDE), (picture_address(picture, NARROW),))


def _noted(pictures: list[Picture], picture: Picture) -> Image:
    """An image that only says which picture it is: most are not drawn for a page."""
    pictures.append(picture)
    return Image(str(len(pictures) - 1), ())


def _drawn(figure: Figure, pictures: list[Picture]) -> Figure:
    return replace(figure, image=drawn_at_once(pictures[int(figure.image.src)]))


def _with_pictures(section: Section, pictures: list[Picture], drawn: tuple[str, ...]) -> Section:
    shown = tuple(_drawn(figure, pictures) for figure in section.figures if figure.kind in drawn)
    left_out = len(shown) < len(section.figures)
    remarks = (*section.remarks, say(OF_REPORT)) if left_out else section.remarks
    return replace(section, figures=shown, remarks=remarks)
