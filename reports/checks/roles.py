"""What part a trial has in a design check, as a heading and in the places that name it."""

from dataclasses import dataclass
from typing import Final

from reports import document as doc
from reports.language import marked


@dataclass(frozen=True)
class Role:
    """The words of one part; `caution` is the title of a caution of its trial. `say`d where they are used."""

    title: str
    elements: str
    caution: str


ONLY: Final = Role(marked("The trial"), marked("What was run in the trial"), "{caution}")
BASELINE: Final = Role(
    marked("The baseline's trial"),
    marked("What was run in the baseline's trial"),
    marked("{caution}, in the baseline's trial"),
)
CANDIDATE: Final = Role(
    marked("The candidate's trial"),
    marked("What was run in the candidate's trial"),
    marked("{caution}, in the candidate's trial"),
)


def roles(document: doc.Document) -> list[Role]:
    """That of each trial, in their order; where nothing joins two trials there is one."""
    places = range(len(document["trials"]))
    if document["reference"] is None:
        return [ONLY for _ in places]
    baseline = document["checks"][0]["baseline_trial"]
    return [BASELINE if place == baseline else CANDIDATE for place in places]
