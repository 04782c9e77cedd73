"""Channel by channel: the mean readings, as pictures and as a table."""

from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.charts.pictures import TileRow, Tiles
from reports.language import say, say_as
from reports.view.model import Bounds, Draw, Figure, Section, Table
from reports.view.tables import ELSEWHERE, table
from reports.wording.speech import Speech, sentences


@dataclass(frozen=True)
class _Readings:
    """Channels and elements of a document, and the one uncertainty that all their means are rounded by."""

    speech: Speech
    channels: list[doc.Entry]
    elements: list[doc.Entry]
    reach: float | None

    def row(self, channel: doc.Entry) -> list[doc.Entry | None]:
        """The cells of a channel in the order of the elements."""
        cells = {cell["element"]: cell for cell in channel["elements"]}
        return [cells.get(entry["id"]) for entry in self.elements]

    def mean(self, cell: doc.Entry | None) -> str:
        """A mean reading as printed."""
        if cell is None or cell["mean"] is None:
            return say_as("reading", "none")
        return numerals.estimate(cell["mean"], self.reach)

    def with_range(self, cell: doc.Entry | None) -> str:
        """A mean reading with the lowest and the highest one."""
        if cell is None or cell["mean"] is None:
            return say_as("reading", "none")
        low, high = numerals.plain(cell["low"]), numerals.plain(cell["high"])
        return say("{mean} ({low} to {high})", mean=self.mean(cell), low=low, high=high)

    def means(self) -> list[float]:
        """All means there are."""
        return doc.known([cell["mean"] for channel in self.channels for cell in self.row(channel) if cell])


def section(speech: Speech, draw: Draw, bounds: Bounds) -> Section:
    """Mean readings by channel, as pictures and as a table, or the sentence that there are none."""
    title = say("Channel by channel")
    if not speech.document["channels"]:
        return Section(anchor="channels", title=title, paragraphs=(say("No channel was scanned."),))
    return Section(
        anchor="channels",
        title=title,
        figures=_figures(
            _readings(speech, rows=bounds.channels, columns=bounds.picture_columns), draw, bounds
        ),
        tables=(
            _table(_readings(speech, rows=len(speech.document["channels"]), columns=bounds.columns), bounds),
        ),
    )


def _readings(speech: Speech, *, rows: int, columns: int) -> _Readings:
    entries = doc.in_order(speech.document)[:columns]
    return _Readings(speech, speech.document["channels"][:rows], entries, _reach(speech))


def _reach(speech: Speech) -> float | None:
    """Half the widest range of readings of a cell, else the meter's step."""
    cells = [cell for channel in speech.document["channels"] for cell in channel["elements"]]
    ranges = [(cell["high"] - cell["low"]) / 2 for cell in cells if cell["mean"] is not None]
    return max(ranges, default=0.0) or speech.trial["meter"]["resolution"]


def _figures(readings: _Readings, draw: Draw, bounds: Bounds) -> tuple[Figure, ...]:
    starts = range(0, len(readings.channels), bounds.picture_rows)
    means = readings.means()
    ends = (min(means), max(means)) if means else (0.0, 1.0)
    parts = [readings.channels[start : start + bounds.picture_rows] for start in starts]
    return tuple(_figure(readings, part, draw, ends=ends) for part in parts)


def _figure(
    readings: _Readings, channels: list[doc.Entry], draw: Draw, *, ends: tuple[float, float]
) -> Figure:
    speech = readings.speech
    picture = Tiles(
        elements=tuple(speech.label(entry["id"]) for entry in readings.elements),
        rows=tuple(_tile_row(readings, channel) for channel in channels),
        ends=ends,
        scale=say("mean reading ({unit}); darker is higher", unit=speech.unit.level),
    )
    alt = say(
        "Mean reading of {number} {things} on {channels} channels, each number printed in its tile; the "
        "table below holds the same.",
        number=len(readings.elements),
        things=speech.things.many,
        channels=len(channels),
    )
    caption = say(
        "Mean reading by channel and {thing}; behind a channel's name stands its signal (RF channel).",
        thing=speech.things.one,
    )
    return Figure(draw(picture), alt, sentences(caption, _cut(readings)), "tiles")


def _tile_row(readings: _Readings, channel: doc.Entry) -> TileRow:
    cells = readings.row(channel)
    return TileRow(
        channel=doc.clean(channel["id"]),
        signal=doc.clean(channel["rf_channel"]),
        means=tuple(cell["mean"] if cell else None for cell in cells),
        printed=tuple(readings.mean(cell) for cell in cells),
    )


def _cut(readings: _Readings) -> str:
    document = readings.speech.document
    every, elements = len(document["channels"]), len(document["elements"])
    if len(readings.channels) == every and len(readings.elements) == elements:
        return ""
    return say(
        "Drawn: {channels} of {all_channels} channels, {shown} of {every} {things}.",
        channels=len(readings.channels),
        all_channels=numerals.count(every),
        shown=len(readings.elements),
        every=elements,
        things=readings.speech.things.many,
    )


def _table(readings: _Readings, bounds: Bounds) -> Table:
    speech = readings.speech
    names = [(speech.label(entry["id"]), "number") for entry in readings.elements]
    every = len(speech.document["elements"])
    cut = say(
        "{shown} of {every} {things} are printed; {elsewhere}.",
        shown=len(readings.elements),
        every=every,
        things=speech.things.many,
        elsewhere=say(ELSEWHERE),
    )
    return table(
        say("Mean reading ({unit}) on each channel, lowest and highest in brackets", unit=speech.unit.level),
        [(say("channel"), "name"), (say("RF channel"), "words"), *names],
        [_row(readings, channel) for channel in readings.channels],
        most=bounds.rows,
        notes=(cut,) if len(readings.elements) < every else (),
    )


def _row(readings: _Readings, channel: doc.Entry) -> list[str]:
    cells = [readings.with_range(cell) for cell in readings.row(channel)]
    return [doc.clean(channel["id"]), doc.clean(channel["rf_channel"]), *cells]
