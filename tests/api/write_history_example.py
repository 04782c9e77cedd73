"""Writes the example of a design's history: `python -m tests.api.write_history_example`.

Four trials of one aerial in two years, all readings invented: the whip on the roof loses about half a bar a
year against a spare that is kept indoors.
"""

import json
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
TRIAL = {
    "title": "Invented: a whip on the roof, four times in two years",
    "meter": {"unit": "bars", "lowest": 0, "highest": 10, "resolution": 0.1},
    "margin": 0.5,
    "reference": "indoor-spare",
    "elements": [
        {"id": "roof-whip", "label": "Whip on the roof", "material": "brass", "form": "rod"},
        {"id": "indoor-spare", "label": "Spare kept indoors", "material": "brass", "form": "rod"},
    ],
}
REQUEST = {
    "element": "roof-whip",
    "reference": "indoor-spare",
    "trials": [f"{place}0c1d2e3f4051627384950a1b2c3d4e{place}" for place in range(1, 5)],
    "margin": 0.5,
}
BEGINS = ("2024-05-04T09:30", "2024-11-16T10:00", "2025-06-07T09:30", "2026-05-09T10:30")
LOST = (0.0, 0.3, 0.55, 1.05)
CHANNELS = {"21": 6.4, "24": 5.1, "27": 7.2, "31": 4.6}


def table(begin, lost, draw):
    """The readings of one trial: six rounds, the order in each drawn, nine minutes a run."""
    lines, minutes = ["element,round,channel,rf_channel,value,at"], 0
    for number in range(1, 7):
        weather = 0.2 * draw.normal()
        for element in draw.permutation(["roof-whip", "indoor-spare"]):
            level = weather + 0.15 * draw.normal() - (lost if element == "roof-whip" else 0.0)
            at = datetime.fromisoformat(f"{begin}:00+00:00") + timedelta(minutes=minutes)
            for channel, usual in CHANNELS.items():
                value = round(usual + level + 0.1 * draw.normal(), 1)
                lines.append(f"{element},{number},ch{channel},{channel},{value:.1f},{at:%Y-%m-%dT%H:%M:%SZ}")
            minutes += 9
    return "\n".join(lines) + "\n"


def main():
    """Write all six files."""
    draw = np.random.RandomState(6)  # the first from 5 on without two runs that are alike
    for name, content in (("trial", TRIAL), ("request", REQUEST)):
        path = EXAMPLES / f"design-history-{name}.json"
        path.write_text(json.dumps(content, indent=2) + "\n", encoding="utf-8")
    for place, (begin, lost) in enumerate(zip(BEGINS, LOST, strict=True), start=1):
        path = EXAMPLES / f"design-history-{place}.csv"
        path.write_text(table(begin, lost, draw), encoding="utf-8")


if __name__ == "__main__":
    main()
