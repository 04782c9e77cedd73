"""Documents rendered in the calling process; what this machine lacks for it becomes an error of ours."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from service.jobs.failures import RendererMissingError


@contextmanager
def renderer_needed() -> Iterator[None]:
    """Raises RendererMissingError where what is rendered within wants a library that is not there."""
    from reports.pdf import PdfUnavailable

    try:
        yield
    except PdfUnavailable as missing:
        raise RendererMissingError(str(missing)) from missing


def rendered(document: Mapping[str, Any], form: str, *, paper: str | None, shape: str) -> bytes:
    """The report on an analysis document. Raises RendererMissingError."""
    from reports import render

    with renderer_needed():
        return render(document, form, paper=paper, shape=shape)
