"""A verdict reached again, held against the one there was: where they differ, and whether that counts.

With the same versions on the same machine the same bytes are due. Elsewhere the same outcomes and counts are,
and numbers within 1e-12 (of their size, where that is above 1); what an analysis says of its versions may
differ, and sentences may where another version of the program worded them.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice, zip_longest
from pathlib import Path
from typing import Any

from service.intake.strict_json import strict_json
from service.jobs.analyst import AnalysisWork
from service.jobs.archive_zip import refused, unzipped
from service.jobs.archived_columns import check_columns
from service.jobs.archived_trial import ArchivedTrial, archived_trial, same_here
from service.jobs.running import Progress
from service.jobs.versions import PROGRAM, versions_here
from service.settings import Limits
from service.storage.trial_rows import json_of

TOLERANCE = 1e-12
MOST_DIFFERENCES = 100
SENTENCES = frozenset({"statement", "reception_statement", "message"})
OF_VERSIONS = frozenset({"#/method/version", "#/method/versions"})
NOTHING = object()
Document = dict[str, Any]
Difference = tuple[str, Any, Any]


@dataclass(frozen=True)
class ArchiveReplay:
    """An archive replayed, to be done in a worker. Raises BadInput for one that is not as it was made."""

    body: bytes
    trial_id: str
    limits: Limits
    references: Path | None

    def __call__(self, progress: Progress) -> Document:
        """How the verdict reached now stands to that of the archive."""
        archived = archived_trial(unzipped(self.body, most_bytes=self.limits.archive_bytes))
        trial_id = archived.about["trial"]["id"]
        if trial_id != self.trial_id:
            raise refused(
                f"This is the archive of trial {trial_id}. Post it to /v1/trials/{trial_id}/replay."
            )
        try:
            return TrialReplay(archived, self.limits, self.references)(progress)
        except (KeyError, TypeError, ValueError, AttributeError, IndexError) as error:
            # members with the right digests may hold anything: a date that is none, a number for a name
            raise refused(
                "What the archive holds could not be analysed: this program did not make it."
            ) from error


@dataclass(frozen=True)
class TrialReplay:
    """The same for an archive that is open."""

    archived: ArchivedTrial
    limits: Limits
    references: Path | None

    def __call__(self, progress: Progress) -> Document:
        """How the verdict reached now stands to that of the archive."""
        for batch in self.archived.batches:
            check_columns(batch.columns, self.limits)
        then = strict_json(self.archived.analysis, name="analysis.json")
        now = AnalysisWork(self.archived.material(), self.limits, self.references)(progress)
        return compared(self.archived, then, now)


def compared(archived: ArchivedTrial, then: Document, now: Document) -> Document:
    """How a document stands to the one there was."""
    same_bytes = json_of(now).encode() == archived.analysis
    expected = same_here(archived)
    reworded = archived.about["versions"].get(PROGRAM) != versions_here()[PROGRAM]
    found = list(islice(differences(then, now, reworded=reworded), MOST_DIFFERENCES + 1))
    return {
        "trial": archived.about["trial"]["id"],
        "trial_version": archived.about["trial"]["version"],
        "agrees": same_bytes if expected else not found,
        "same_bytes": same_bytes,
        "same_bytes_expected": expected,
        "outcome": {"then": _outcome(then), "now": _outcome(now)},
        "versions": {"then": archived.about["versions"], "now": dict(versions_here())},
        "differences": [
            {"pointer": pointer, "then": old, "now": new} for pointer, old, new in found[:MOST_DIFFERENCES]
        ],
        "more_differences": len(found) > MOST_DIFFERENCES,
    }


def differences(then: Any, now: Any, *, reworded: bool, at: str = "#") -> Iterator[Difference]:
    """Where two documents differ by more than rounding may; `reworded`: sentences may differ too."""
    if at in OF_VERSIONS or (reworded and at.rsplit("/", 1)[-1] in SENTENCES):
        return
    if isinstance(then, dict) and isinstance(now, dict):
        for name in dict.fromkeys((*then, *now)):
            place = f"{at}/{name.replace('~', '~0').replace('/', '~1')}"
            old, new = then.get(name, NOTHING), now.get(name, NOTHING)
            yield from differences(old, new, reworded=reworded, at=place)
    elif isinstance(then, list) and isinstance(now, list):
        for index, (old, new) in enumerate(zip_longest(then, now, fillvalue=NOTHING)):
            yield from differences(old, new, reworded=reworded, at=f"{at}/{index}")
    elif not _alike(then, now):
        yield at, _shown(then), _shown(now)


def _alike(then: Any, now: Any) -> bool:
    if type(then) is float or type(now) is float:
        numbers = all(isinstance(value, int | float) and not isinstance(value, bool) for value in (then, now))
        return numbers and abs(then - now) <= TOLERANCE * max(1.0, abs(then), abs(now))
    return type(then) is type(now) and bool(then == now)


def _shown(value: Any) -> Any:
    return "(nothing)" if value is NOTHING else value


def _outcome(document: Mapping[str, Any]) -> Any:
    verdict = document.get("verdict")
    return verdict.get("outcome") if isinstance(verdict, dict) else None
