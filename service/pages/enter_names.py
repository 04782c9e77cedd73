"""The names that a trial lacks before a run of it can be entered: its channels, its elements."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from flask import Response, request

from reports.document import clean
from reports.language import marked, say
from service.errors import ServiceError
from service.pages.answering import Link, see, shown
from service.pages.declaring import Pages
from service.pages.fields import Values
from service.pages.joined import joined
from service.pages.named_lists import channels_in, elements_in
from service.pages.titles import titled
from service.pages.told_faults import told
from service.pages.troubles import Trouble
from service.radio.channel_plan import REGIONS, channel_plan

enter_names = Pages("enter-names")

ELEMENTS: Final = (
    "elements",
    marked("Elements, one a line"),
    marked(
        "A name; behind commas, if you like: material, form (wire, rod, tube, strip, stranded), diameter and "
        "length in mm. Such as: rod A, brass, rod, 3, 690."
    ),
)
CHANNELS: Final = (
    "channels",
    marked("Channels in the order of your tuner's list, one a line"),
    marked(
        "A name and, behind a comma, its RF channel, so that channels of one signal are counted once. Such "
        "as: Harbour, 22."
    ),
)
PLANS: Final[Mapping[str, str]] = {
    "north_america": marked("North America, 6 MHz channels"),
    "europe": marked("Europe, 7 MHz channels in VHF and 8 MHz in UHF"),
    "australia": marked("Australia, 7 MHz channels"),
    "japan": marked("Japan, 6 MHz channels"),
}
"""The titles of the channel plans, by region."""
TAKEN: Final = marked(
    "These are all RF channels of the plan. Leave those that you receive, and name them as your tuner does."
)


@dataclass(frozen=True)
class ListAsked:
    """A list of names that is asked for, one a line."""

    name: str
    label: str
    hint: str
    text: str


@dataclass(frozen=True)
class NamesPage:
    """The form for names; `plans` are channel plans that the list of channels can begin with."""

    title: str
    address: str
    troubles: tuple[Trouble, ...]
    notices: tuple[str, ...]
    lists: tuple[ListAsked, ...]
    plans: tuple[Link, ...]


@enter_names.page("/kept/<trial_id>/names", method="POST")
def keep_names(trial_id: str) -> Response:
    """Give the trial the names of its channels and elements."""
    values = request.form.to_dict()
    owner, trials = joined().owner(), joined().kept().trials
    named = {
        "elements": elements_in(values.get("elements", "")),
        "channels": channels_in(values.get("channels", "")),
    }
    document = trials.get(owner, trial_id).document
    patch = {name: entries for name, entries in named.items() if entries and not document.get(name)}
    try:
        trials.change(owner, trial_id, patch)
    except ServiceError as error:
        return names_answer(document, values, trouble=told(error), status=error.status)
    return see(f"/kept/{trial_id}/enter")


def names_answer(
    document: Mapping[str, Any], values: Values, *, trouble: Trouble | None = None, status: int = 200
) -> Response:
    """The form for the names that the document lacks."""
    region = values.get("region", "")
    known = region in REGIONS
    texts = {"channels": _from_plan(region)} if known else {}
    lists = [asked for asked in (ELEMENTS, CHANNELS) if not _held(document, asked[0])]
    page = NamesPage(
        title=clean(titled(document.get("title"))),
        address=f"/kept/{document['id']}",
        troubles=() if trouble is None else (trouble,),
        notices=(say(TAKEN),) if known else (),
        lists=tuple(
            ListAsked(name, say(label), say(hint), text=values.get(name) or texts.get(name, ""))
            for name, label, hint in lists
        ),
        plans=_plans(document) if any(asked is CHANNELS for asked in lists) else (),
    )
    title = say("Name what is to be entered")
    return shown("enter_names.html", page, title=title, section="/kept", status=status)


def _held(document: Mapping[str, Any], name: str) -> bool:
    """Whether the trial or its readings have names of that kind."""
    return bool(document.get(name) or document["kept"]["held"][name])


def _from_plan(region: str) -> str:
    """Lines for the RF channels of a plan."""
    numbers = [channel.rf_channel for channel in channel_plan(region).channels]
    lines = [(say("RF {number}", number=number), number) for number in numbers]
    return "\n".join(f"{name}, {number}" for name, number in lines)


def _plans(document: Mapping[str, Any]) -> tuple[Link, ...]:
    """The plans to begin with, that of the trial's region first."""
    own = document.get("region")
    regions = sorted(REGIONS, key=lambda region: region != own)
    return tuple(
        Link(f"/kept/{document['id']}/enter?region={region}", say(PLANS[region])) for region in regions
    )
