"""A board to show on a club day: what is settled, who shares a place, how far it is, what comes next."""

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from typing import TYPE_CHECKING, Any, Final

from flask import Response, request

from reports.document import clean
from reports.language import marked, say
from service.jobs.in_locale import in_locale
from service.jobs.next_runs import NextRuns
from service.pages.answering import shown
from service.pages.assets import edition
from service.pages.board_course import Course, course
from service.pages.coming import runs_to_come
from service.pages.declaring import Pages
from service.pages.joined import joined
from service.pages.moments import moment
from service.pages.titles import titled
from service.pages.verdict_so_far import OPEN

if TYPE_CHECKING:
    from service.jobs.kept_lookup import Seen
    from service.pages.board_parts import BoardParts, Standings

board = Pages("board")

SECONDS: Final = 15
"""Between two looks of the board at the server."""
DONE: Final = "done"
LOOKED_AT: Final = 20
"""Analyses that are looked through for the newest verdict there is."""
MORE: Final = marked("needs more runs")
NO_READINGS: Final = marked("No readings have come yet.")
OLDER: Final = marked("This verdict was reached {reached}; what came since is not in it.")
NO_VERDICT: Final = marked("No verdict has been asked for yet.")


@dataclass(frozen=True)
class BoardPage:
    """The board.

    address: of the trial. edition: changes with what the board is made of, the time aside. seconds: between
    two looks. as_of: the present time, for machines `as_of_exactly`. notes: what to know of the verdict.
    """

    title: str
    address: str
    edition: str
    seconds: str
    as_of: str
    as_of_exactly: str
    outcome: str
    statement: str
    notes: tuple[str, ...]
    tables: "tuple[Standings, ...]"
    course: Course


@dataclass(frozen=True)
class Verdict:
    """The newest verdict there is; `notes` tell where it is older than the readings or on its way."""

    document: Mapping[str, Any] | None
    notes: tuple[str, ...]


@board.page("/kept/<trial_id>/board")
def show_board(trial_id: str) -> Response:
    """The board as it is now; 304 to a script that has it already."""
    owner, desks = joined().owner(), joined().kept()
    seen = desks.trials.get(owner, trial_id)
    newest_first = desks.analyses.page(owner, trial_id, None, limit=LOOKED_AT)
    if newest_first and newest_first[0].state in OPEN:
        desks.analyses.get(owner, newest_first[0].id)  # lets this process take up what another left behind
    of_now = _edition(seen.version, newest_first)
    answer = Response(status=304) if of_now in request.if_none_match else _made(seen, newest_first, of_now)
    answer.headers["Cache-Control"] = "no-store"  # else a reload could show an older time than it has
    answer.set_etag(of_now)
    return answer


def _made(seen: "Seen", newest_first: Sequence[Any], of_now: str) -> Response:
    there = seen.document["kept"]["held"]["runs"] > 0
    verdict = _verdict(newest_first, seen.version) if there else Verdict(None, ())
    material = joined().kept().trials.material(joined().owner(), seen.document["id"])
    page = _page(seen.document, runs_to_come(material), verdict, of_now)
    return shown(
        "board.html",
        page,
        title=f"{page.outcome}: {page.title}",
        section="/kept",
        styles=("board.css",),
        scripts=("board.js",),
    )


def _page(document: Mapping[str, Any], coming: NextRuns | None, verdict: Verdict, of_now: str) -> BoardPage:
    parts = None if verdict.document is None else _parts(verdict.document)
    there = document["kept"]["held"]["runs"] > 0
    now = datetime.now(UTC).replace(microsecond=0).isoformat()
    return BoardPage(
        title=clean(titled(document.get("title"))),
        address=f"/kept/{document['id']}",
        edition=of_now,
        seconds=str(SECONDS),
        as_of=moment(now),
        as_of_exactly=now,
        outcome=say(MORE) if parts is None else parts.outcome,
        statement=say(NO_VERDICT if there else NO_READINGS) if parts is None else parts.statement,
        notes=verdict.notes,
        tables=() if parts is None else (parts.table,),
        course=course(coming, document.get("minutes_per_run"), open_still=parts is None or not parts.settled),
    )


def _edition(version: int, newest_first: Sequence[Any]) -> str:
    """A name for all that the board is made of, the time aside; nothing is worked out for it."""
    stand = [(one.id, one.state, one.trial_version, one.finished_at) for one in newest_first]
    made_of = (edition(), joined().locale, SECONDS, version, stand)
    return hashlib.sha256(repr(made_of).encode()).hexdigest()[:24]


def _verdict(newest_first: Sequence[Any], version: int) -> Verdict:
    """The newest verdict that was reached, be it on fewer readings than there are."""
    last = newest_first[0] if newest_first else None
    notes = []
    if last is not None and last.state in OPEN:
        notes.append(say("The verdict on the latest readings is being worked out."))
    elif last is not None and last.problem is not None:
        why = last.problem["detail"]
        notes.append(say("On the latest readings no verdict can be reached: {why}", why=why))
    done = next((one for one in newest_first if one.state == DONE), None)
    if done is None:
        return Verdict(None, tuple(notes))
    if done.trial_version != version:
        notes.append(say(OLDER, reached=moment(done.finished_at or done.created_at)))
    document = joined().kept().analyses.get(joined().owner(), done.id).document
    return Verdict(document, tuple(notes))


def _parts(document: Mapping[str, Any]) -> "BoardParts":
    from service.pages.board_parts import board_parts

    work = partial(in_locale, joined().locale, partial(board_parts, document))
    return joined().kept().runner.run(work, seconds=joined().limits.rendering_seconds)
