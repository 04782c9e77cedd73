"""How a command that asks one question ends: its answer given, and an exit status that tells the outcome."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from service.client.output import give
from service.client.trouble import Trouble

if TYPE_CHECKING:
    import httpx

OUTCOME = "X-Outcome"


def status_given(
    answer: "httpx.Response", statuses: Mapping[str, int], *, asked: str, form: str, output: Path | None
) -> int:
    """The exit status of the outcome, once the answer is given; `asked` names the question.

    Raises Trouble where the answer does not tell its outcome; it is not given then.
    """
    status = statuses.get(answer.headers.get(OUTCOME, ""))
    if status is None:
        raise Trouble(f"What answers there does not say what came of the {asked}.")
    give(answer.content, form, output)
    return status
