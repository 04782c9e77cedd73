"""From a body to a verdict: read it, analyse it, complete it with sentences, render it if wanted.

The libraries behind this are loaded where they are used: a server that leaves the work to its workers does
not carry them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from service.intake.marks import Marks
from service.jobs.in_locale import in_locale
from service.jobs.observing import Observer, Unobserved, tell_of
from service.jobs.rendering import rendered
from service.jobs.runners import Runner
from service.settings import Limits


@dataclass(frozen=True)
class Batch:
    """What a request brings: the bytes and their media type, and what a table cannot say itself.

    trial: the trial document, None where the body holds it. The marks are texts in the table that mean
    "scanned, nothing found" and "not scanned".
    """

    body: bytes
    media_type: str
    trial: Mapping[str, Any] | None = None
    nothing_found: tuple[str, ...] = ()
    not_scanned: tuple[str, ...] = ()

    def marks(self) -> Marks:
        """The marks as intake takes them. Raises BadInput for one that would mean both."""
        return Marks(nothing_found=self.nothing_found, not_scanned=self.not_scanned)


@dataclass(frozen=True)
class MadeReport:
    """A report, and of its document what is counted."""

    content: bytes
    about: Mapping[str, Any]


class VerdictDesk:
    """Takes batches and has them judged, each within its time.

    references: the folder that keeps the bell-shaped references, None for none. observer: who counts.
    """

    def __init__(
        self, runner: Runner, *, limits: Limits, references: Path | None, observer: Observer | None = None
    ):
        self._runner = runner
        self._observer = observer or Unobserved()
        self._limits = limits
        self._references = references

    def document(self, batch: Batch) -> dict[str, Any]:
        """The analysis document of the batch, with its sentences.

        Raises whatever reading refuses (see `service.intake`), TooLarge past a limit, JobError.
        """
        work = partial(verdict_document, batch, self._limits, self._references)
        document = self._runner.run(work, seconds=self._limits.analysis_seconds)
        tell_of(self._observer, document)
        return document

    def report(
        self, batch: Batch, *, form: str, paper: str | None, shape: str = "wide", locale: str = "en-GB"
    ) -> bytes:
        """The report on the batch in one of the forms of `reports`; `paper` None for that of the locale.

        Raises the same, and RendererMissingError where this machine cannot make that form.
        """
        of_batch = partial(verdict_report, batch, self._limits, self._references)
        work = partial(in_locale, locale, partial(of_batch, form=form, paper=paper, shape=shape))
        seconds = self._limits.analysis_seconds + self._limits.rendering_seconds
        report = self._runner.run(work, seconds=seconds)
        tell_of(self._observer, report.about)
        return report.content

    def ready(self) -> bool:
        """Whether a batch would be taken now."""
        return self._runner.ready()


def verdict_document(batch: Batch, limits: Limits, references: Path | None) -> dict[str, Any]:
    """The analysis document of the batch, with its sentences; runs in the calling process."""
    from reports.wording import complete
    from service.analysis import analyse
    from service.intake.batch import read_batch
    from service.jobs.reference_store import reference_store

    trial, readings = read_batch(
        batch.body, batch.media_type, trial=batch.trial, marks=batch.marks(), limits=limits
    )
    return complete(analyse(trial, readings, store=reference_store(references)))


def verdict_report(
    batch: Batch, limits: Limits, references: Path | None, *, form: str, paper: str | None, shape: str
) -> MadeReport:
    """The report on the batch; runs in the calling process."""
    document = verdict_document(batch, limits, references)
    content = rendered(document, form, paper=paper, shape=shape)
    return MadeReport(content, {name: document[name] for name in ("read_as", "verdict")})


def load_libraries() -> None:
    """Import what a verdict may need, so that the first one does not wait for it."""
    import scipy.optimize
    import scipy.stats  # noqa: F401 (loaded, not used)

    import reports.wording  # noqa: F401 (loaded, not used)
    import service.analysis
    import service.intake.batch
    import service.jobs.reference_store  # noqa: F401 (loaded, not used)
