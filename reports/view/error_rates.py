"""How often the tool is wrong: measured rates as a picture and as a table, the same in every report."""

from dataclasses import replace

from reports import numerals
from reports.charts.pictures import Rate, Rates
from reports.error_rates import ErrorRates, Kind, error_rates
from reports.language import marked, say
from reports.view.model import Bounds, Draw, Figure, Section, Table
from reports.view.tables import table
from reports.wording import error_rates as words
from reports.wording.speech import Speech

CALLED = marked("some pair of equals called different")
NAMED = marked("a false winner named")


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """What the calibration study measured, where the promise is made and beyond it."""
    return replace(of_rule(draw, bounds), paragraphs=tuple(words.sentences(speech, error_rates())))


def of_rule(draw: Draw, bounds: Bounds) -> Section:
    """The same of the rule alone, without any trial."""
    measured = error_rates()
    return Section(
        anchor="error-rates",
        title=say("How often this tool is wrong"),
        paragraphs=tuple(words.of_rule(measured)),
        figures=(figure(measured, draw),),
        tables=(_table(measured, bounds),),
    )


def figure(measured: ErrorRates, draw: Draw) -> Figure:
    """The picture with its words: for each kind of noise the fewest and the most of 1000 trials."""
    kinds = [*measured.promised, *(kind for kind in measured.beyond if not kind.within)]
    most = numerals.in_a_thousand(_promise(measured))
    picture = Rates(
        rates=tuple(_rate(kind, promised=kind in measured.promised) for kind in kinds),
        promise=_thousand(_promise(measured)),
        promise_says=say("promised: at most {number}", number=most),
        called_says=say(CALLED),
        named_says=say(NAMED),
        axis=say("of 1000 simulated trials of equals"),
    )
    alt = say(
        "Of 1000 simulated trials of equals, how many called a pair of them different and named a false "
        "winner. {counts}.",
        counts="; ".join(map(_told, kinds)),
    )
    caption = say(
        "Each line runs from the fewest to the most over the numbers compared; its mark stands at the most. "
        "Inside the hatched band the promise holds. * No promise is made; of these only those above it are "
        "drawn."
    )
    return Figure(draw(picture), alt, caption, "rates")


def _told(kind: Kind) -> str:
    return say(
        "{noise}: {called} and {named}",
        noise=words.noise(kind),
        called=words.of_a_thousand(kind.called),
        named=words.of_a_thousand(kind.named),
    )


def _rate(kind: Kind, *, promised: bool) -> Rate:
    name = words.noise(kind) if promised else f"{words.noise(kind)} *"
    called, named = (tuple(_thousand(share) for share in shares) for shares in (kind.called, kind.named))
    return Rate(name, (called[0], called[1]), (named[0], named[1]))


def _promise(measured: ErrorRates) -> float:
    return max(kind.promise for kind in measured.promised)


def _thousand(share: float) -> float:
    return 1000.0 * share


def _table(measured: ErrorRates, bounds: Bounds) -> Table:
    headings = [
        (say("noise"), "name"),
        (say("numbers compared"), "words"),
        (say("pair called"), "number"),
        (say("false winner"), "number"),
        (say("promise held"), "words"),
    ]
    rows = [_row(kind, promised=True) for kind in measured.promised]
    rows += [_row(kind, promised=False) for kind in measured.beyond]
    made = say("Simulated noise, no readings of any mast. Made by: {command}", command=measured.made_by)
    return table(say("Wrong trials of 1000, fewest to most"), headings, rows, most=bounds.rows, notes=(made,))


def _row(kind: Kind, *, promised: bool) -> list[str]:
    return [
        words.noise(kind),
        words.elements(kind),
        words.of_a_thousand(kind.called),
        words.of_a_thousand(kind.named),
        words.held(kind, promised=promised),
    ]
