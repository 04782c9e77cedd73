"""Makes the invented demo trial, the truth it came from, and the small examples of openapi/examples/.

Run it with a folder to write to:  python tests/demo/make_demo.py openapi/examples

Everything here is invented: the place, the stations, the meter and the gains.
"""

import csv
import json
import sys
from collections.abc import Sequence
from io import StringIO
from pathlib import Path

import numpy as np
from drawing import (
    FOUND_FROM,
    SMALL_CHANNELS,
    SMALL_GAIN_DB,
    Reading,
    demo_readings,
    draw_truth,
    small_readings,
)
from scenario import DB_IN_A_BAR, ELEMENTS, INVENTED, PAD_DB, ROUNDS, SEED, demo_trial


def small_request(readings: Sequence[Reading]) -> dict[str, object]:
    """The small trial as the JSON body of a verdict request."""
    elements = [
        {"id": "copper-loop", "label": "Copper loop"},
        {"id": "steel-loop", "label": "Steel loop"},
    ]
    names = ("element", "round", "channel", "rf_channel", "value")
    return {
        "trial": {
            "title": "Two loops on the quay (invented)",
            "meter": {"unit": "dBuV", "resolution": 0.1},
            "margin": 1.0,
            "elements": elements,
        },
        "readings": [{name: getattr(reading, name) for name in names} for reading in readings],
    }


def small_wide(readings: Sequence[Reading]) -> str:
    """The small trial as people keep it in a spreadsheet: one row a channel, one column a run."""
    cell = {(r.channel, f"{r.element}@{r.round}"): r.value for r in readings}
    runs = [f"{element}@{n}" for n in range(1, ROUNDS + 1) for element in SMALL_GAIN_DB]
    rows = [[c, rf, *(cell[c, run] for run in runs)] for c, (rf, _) in SMALL_CHANNELS.items()]
    return delimited(["channel", "rf_channel", *runs], rows)


def small_semicolon(readings: Sequence[Reading]) -> str:
    """The small trial in long form, as a spreadsheet with decimal commas saves it."""
    rows = [
        [r.element, r.round, r.channel, r.rf_channel, f"{r.value:.1f}".replace(".", ",")] for r in readings
    ]
    return delimited(["element", "round", "channel", "rf_channel", "value"], rows, delimiter=";")


def demo_long(readings: Sequence[Reading]) -> str:
    """Readings in long form, one row each; an empty value with `received` false where nothing was found."""
    heading = ["element", "round", "channel", "rf_channel", "value", "received", "at"]
    return delimited(heading, [long_row(reading) for reading in readings])


def long_row(r: Reading) -> list[object]:
    """One reading as a row of the long form."""
    value, received = ("", "false") if r.value is None else (f"{r.value:g}", "true")
    return [r.element, r.round, r.channel, r.rf_channel, value, received, f"{r.at:%Y-%m-%dT%H:%M:%SZ}"]


def delimited(heading: Sequence[str], rows: Sequence[Sequence[object]], *, delimiter: str = ",") -> str:
    """A heading and its rows as delimited text."""
    text = StringIO()
    writer = csv.writer(text, delimiter=delimiter, lineterminator="\n")
    writer.writerow(heading)
    writer.writerows(rows)
    return text.getvalue()


def truth_text(truth: dict) -> str:
    """The truth in words, for whoever reads the demo's report beside it."""
    labels = {element["id"]: element["label"] for element in ELEMENTS}
    gains = sorted(truth["gain_bars"].items(), key=lambda item: -item[1])
    rows = "\n".join(f"| {labels[name]} | `{name}` | {gain:+.2f} |" for name, gain in gains)
    sd = truth["sd_bars"]
    return f"""# The truth behind the demo trial

{INVENTED}

`demo-readings.csv` was drawn from these numbers, and `demo-one-scan.csv` is its first round. No report knows
them: they are here so that you can hold a verdict against what is really so.

| element | id | true gain over the brass rod, bars |
|---|---|---|
{rows}

- The best two differ by {gains[0][1] - gains[1][1]:.2f} bar, a tenth of the margin of 0.5 bar. The steel
  strand is truly the worst of the five that compete.
- The spare copy is truly equal to the brass rod. The pad takes {PAD_DB:g} dB, on this meter
  {PAD_DB / DB_IN_A_BAR:g} bars ({DB_IN_A_BAR:g} dB a bar, which nobody with a bar meter would know).
- Standard deviations, in bars: round {sd["round"]:g}, mounting {sd["mounting"]:g}, RF channel within one scan
  {sd["rf_channel_in_a_scan"]:g}, channel {sd["channel"]:g}.
- The meter shows whole bars from 0 to 10. Below {FOUND_FROM:g} bar the tuner finds nothing.
- Levels of the RF channels, effects of each round and of each mounting, and the order of the runs:
  `demo-truth.json`. Seed {SEED}; made by `tests/demo/make_demo.py`.

`verdict-request.json`, `wide.csv`, `semicolon.csv`, `spreadsheet.csv`, `readings.ndjson` and `readings.xlsx`
are one small trial, just as invented, in six forms.
In it the steel loop is truly {-SMALL_GAIN_DB["steel-loop"]:g} dB below the copper loop.
"""


def as_json(document: object) -> str:
    """A document as indented JSON with a final newline."""
    return json.dumps(document, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def make_all() -> dict[str, str]:
    """Every file by name."""
    stream = np.random.RandomState(SEED)
    truth = draw_truth(stream)
    readings = demo_readings(truth, stream)
    small = small_readings(np.random.RandomState(SEED))
    return {
        "demo-trial.json": as_json(demo_trial()),
        "demo-truth.json": as_json(truth),
        "demo-truth.md": truth_text(truth),
        "demo-readings.csv": demo_long(readings),
        "demo-one-scan.csv": demo_long([r for r in readings if r.round == 1]),
        "verdict-request.json": as_json(small_request(small)),
        "wide.csv": small_wide(small),
        "semicolon.csv": small_semicolon(small),
    }


def main() -> None:
    """Write every file into the folder named on the command line."""
    folder = Path(sys.argv[1])
    for name, text in make_all().items():
        (folder / name).write_text(text, encoding="utf-8", newline="")


if __name__ == "__main__":
    main()
