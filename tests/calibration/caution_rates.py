"""How often cautions that test readings or order are raised by sound trials, where nothing is wrong.

python -m tests.calibration.caution_rates --trials 1000 --workers 2

writes `caution_rates.md` beside this file: one line a design, one column a caution, rates in per cent. A rate
above what chance allows of one in twenty (99.9 % binomial upper bound) is marked with an exclamation mark.
Cautions that only state what is there (few rounds, readings at the end of the scale, ties of a coarse meter)
test nothing and are not here.
"""

import zlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, partial
from itertools import combinations
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pandas as pd

from service.analysis.cautions.bands_disagree import bands_disagree
from service.analysis.cautions.depends_on_channels import depends_on_channels
from service.analysis.cautions.drift import drift
from service.analysis.cautions.identical_runs import identical_runs
from service.analysis.cautions.odd_channel_round import odd_channel_round
from service.analysis.cautions.odd_run import odd_run
from service.analysis.cautions.one_rf_channel_decides import one_rf_channel_decides
from service.analysis.cautions.order_fixed import order_fixed
from service.analysis.cautions.pad_not_seen import pad_not_seen
from service.analysis.cautions.reference_step import reference_step
from service.analysis.cautions.twin_differs import twin_differs
from service.analysis.cautions.unequal_noise import unequal_noise
from service.analysis.facts import Facts
from service.statistics.crossed_bootstrap import crossed_bootstrap
from service.statistics.results import CLEAR_WINNER
from service.statistics.standing import standing_pairs
from service.trial.names import with_names_of
from service.trial.readings_table import Readings
from service.trial.rounds import assign_rounds
from service.trial.scores import score_table
from service.trial.trial_document import trial_from_document
from tests.calibration.courses import done, line, parser
from tests.calibration.rates import by_the_rule, most_allowed, rule
from tests.trial.made_frames import readings_frame

PROMISE = 0.05
TABLE = Path(__file__).with_name("caution_rates.md")
COMMAND = "python -m tests.calibration.caution_rates --trials {trials} --workers 2"
HEAD = """# How often sound trials raise cautions

{trials} simulated trials a design in which nothing is wrong: elements 0.7 dB apart, rounds that move by 1 dB,
runs by 0.5 dB and single readings by 0.5 dB, random orders, six RF channels always received, three in each of
two bands, and three more in seven of ten scans; a trial with a twin and a pad of 3 dB has its twin equal to
the first element. Per cent of the trials that raise each caution that tests readings or order; one above what
chance allows of one in twenty is marked `!`. Made by

```
{command}
```
"""
FINDERS = (
    drift,
    reference_step,
    unequal_noise,
    odd_run,
    odd_channel_round,
    order_fixed,
    one_rf_channel_decides,
    depends_on_channels,
    bands_disagree,
    identical_runs,
    twin_differs,
    pad_not_seen,
)
CODES = tuple(finder.__name__.replace("_", "-") for finder in FINDERS)
STRONG, MARGINAL = 6, 3  # RF channels received always, and in seven of ten scans
REGION = "europe"
RF_CHANNELS = ("10", "11", "12", "24", "25", "26", "27", "28", "29")  # of VHF the first three, UHF the others
PAD_DB = 3.0
RUN_SD, CELL_SD, ROUND_SD = 0.5, 0.5, 1.0
Draw = Callable[[np.random.Generator, tuple[int, ...]], np.ndarray]


@dataclass(frozen=True)
class SoundDesign:
    """Elements, rounds and noise of sound trials; `step` is that of the meter, `scale` shrinks the noise.

    controls: the last but one is a twin of the first, the last is the first with a pad of 3 dB in line.
    """

    name: str
    elements: int
    rounds: int
    draw: Draw
    step: float = 0.001
    scale: float = 1.0
    controls: bool = False

    @property
    def label(self) -> str:
        """What the table calls it."""
        return f"{self.name}, {self.elements} elements, {self.rounds} rounds"


def normal(stream, shape):
    """Normal noise of standard deviation 1."""
    return stream.standard_normal(shape)


def heavy_tailed(stream, shape):
    """Student's t with 5 degrees of freedom, brought to standard deviation 1."""
    return stream.standard_t(5, shape) / np.sqrt(5 / 3)


def designs():
    """The designs of the table."""
    sizes = [(2, 6), (3, 3), (3, 6), (4, 6), (4, 12), (8, 6)]
    return [
        *(SoundDesign("normal", k, r, normal) for k, r in sizes),
        *(SoundDesign("coarse meter", k, r, normal, step=1.0) for k, r in sizes),
        *(SoundDesign("quiet coarse meter", k, r, normal, step=1.0, scale=0.1) for k, r in ((3, 6), (8, 6))),
        *(SoundDesign("heavy-tailed", k, r, heavy_tailed) for k, r in ((3, 6), (4, 12), (8, 6))),
        *(SoundDesign("twin and pad", k, r, normal, controls=True) for k, r in ((4, 6), (6, 6), (4, 12))),
    ]


def raised(design, trials, seed):
    """How many of so many sound trials raise each caution, in the order of CODES."""
    stream = np.random.default_rng([seed, zlib.crc32(design.label.encode())])
    counts = np.zeros(len(FINDERS), dtype=int)
    for _ in range(trials):
        facts = sound_trial(design, stream)
        counts += [finder(facts) is not None for finder in FINDERS]
    return counts.tolist()


def sound_trial(design, stream):
    """The facts of one trial in a random order, its elements unequal, its noise the same for all."""
    trial, frame = _skeleton(design)
    values = _read(design, _levels(design, stream))
    lost = _lost(stream, values.shape)
    begin = stream.permuted(np.tile(np.arange(design.elements), (design.rounds, 1)), axis=1).T
    minutes = 10 * begin + 24 * 60 * np.arange(design.rounds)
    rows = frame.assign(
        value=np.where(lost, np.nan, values).ravel(),
        received=~lost.ravel(),
        at=pd.Timestamp("2025-05-10T08:00:00Z")
        + pd.to_timedelta(np.repeat(minutes.ravel(), values.shape[2]), unit="min"),
    )
    table = score_table(trial, rows)
    judgement = _judgement(trial, table)
    return Facts(
        trial=trial,
        read_as={"rounds_from": "round column"},
        rows=rows,
        mountings_by_name={},
        table=table,
        judgement=judgement,
        noise=None,
        early_noise=None,
        bootstraps=_bootstraps(trial, table, judgement),
    )


def _judgement(trial, table):
    """As much of the judgement as the cautions ask for: the outcomes that stand and the last intervals."""
    looks = by_the_rule(table.scores, rule(planned=trial.planned_rounds, margin=trial.margin))
    stands, last = standing_pairs(looks), looks.whole(looks.rounds)
    pairs = [
        SimpleNamespace(
            first=first,
            second=second,
            outcome=stands.outcome[place],
            winner=None if stands.winner[place] < 0 else int(stands.winner[place]),
            difference=float(last.difference[place]),
            low=float(last.low[place]),
            high=float(last.high[place]),
        )
        for place, (first, second) in enumerate(combinations(range(len(table.scores)), 2))
    ]
    return SimpleNamespace(judged=np.ones(len(table.scores), dtype=bool), pairs=pairs)


def _bootstraps(trial, table, judgement):
    """Those of the pairs with a clear winner, of which alone a caution asks."""
    clear = [pair.outcome == CLEAR_WINNER for pair in judgement.pairs]
    asked = [(pair.first, pair.second) for pair in judgement.pairs if pair.outcome == CLEAR_WINNER]
    found = iter(
        crossed_bootstrap(table.cells, asked, level=trial.confidence, seed=trial.seed) if asked else ()
    )
    return tuple(next(found) if one else None for one in clear)


def _lost(stream, shape):
    """Which readings found nothing, (K, R, M): on the marginal RF channels three of ten."""
    return (stream.random(shape) < 0.3) & (np.arange(shape[2]) >= STRONG)


def _levels(design, stream):
    """Readings before they are rounded, (K, R, M): elements, rounds, RF channels, runs and cells."""
    elements, rounds, channels = design.elements, design.rounds, STRONG + MARGINAL
    steps = 0.7 * np.arange(elements)
    if design.controls:
        steps[-2:] = 0.0, -PAD_DB
    level = 30.0 + steps[:, None, None] + stream.uniform(-8, 8, channels)
    level = level + design.scale * ROUND_SD * design.draw(stream, (rounds, 1))
    level = level + design.scale * RUN_SD * design.draw(stream, (elements, rounds, 1))
    return level + design.scale * CELL_SD * design.draw(stream, (elements, rounds, channels))


def _read(design, levels):
    return np.round(levels / design.step) * design.step


@cache
def _skeleton(design):
    """The trial and a frame of its readings, the values to be filled in."""
    elements, rounds = design.elements, design.rounds
    rows = [
        {"element": f"e{k}", "round": r + 1, "channel": f"c{m}", "rf_channel": name, "value": 1.0}
        for k in range(elements)
        for r in range(rounds)
        for m, name in enumerate(RF_CHANNELS)
    ]
    readings = Readings(readings_frame(rows), {})
    named = [{"id": f"e{k}"} for k in range(elements)]
    if design.controls:
        named[-2]["twin_of"] = "e0"
        named[-1] |= {"pad_of": "e0", "pad_db": PAD_DB}
    document = {
        "meter": {"unit": "dB", "resolution": design.step},
        "region": REGION,
        "margin": 0.01,
        "reference": "e0",
        "elements": named,
    }
    return with_names_of(trial_from_document(document), readings), assign_rounds(readings).frame


def table(counts, trials):
    """The rates as a Markdown document."""
    most = most_allowed(PROMISE, trials)
    lines = [HEAD.format(trials=trials, command=COMMAND.format(trials=trials))]
    lines += [line(["design", *CODES]), "|" + "---|" * (len(CODES) + 1)]
    for design, row in counts.items():
        cells = [f"{100 * count / trials:.1f}{'!' if count > most else ''}" for count in row]
        lines.append(line([design.label, *cells]))
    return "\n".join([*lines, ""])


def main():
    """Simulate every design and write the table."""
    asked = parser("How often sound trials raise cautions.", trials=1_000).parse_args()
    found = dict(done(partial(raised, seed=1), designs(), trials=asked.trials, workers=asked.workers))
    TABLE.write_text(table(found, asked.trials), encoding="utf-8")


if __name__ == "__main__":
    main()
