"""Evidence for every caution that an analysis can raise, with what its message must name."""

from typing import Any

RUN = {"element": "bronze-13", "round": 3}
STOPPED = {"pairs_touched": [["brass-3", "brass-3b"]], "pairs_standing": [["brass-3", "steel-14"]]}
GROUPS = [{"rf_channel": "27", "channels": ["27.1", "27.2"]}]

# code: (severity, evidence, words that the message must hold)
CAUTIONS: dict[str, tuple[str, dict[str, Any], tuple[str, ...]]] = {
    "one-round": ("warning", {"rounds_done": 1, "fewest_rounds": 3}, ("once", "3 rounds")),
    "few-rounds": (
        "warning",
        {"rounds_done": 2, "planned_rounds": 6, "fewest_rounds": 3},
        ("2 of 6 rounds", "before round 3"),
    ),
    "one-mounting": (
        "stop",
        {"elements": ["brass-3"], "scans": 12, **STOPPED},
        ("12 scans", "3 mm brass rod", "still standing: 3 mm brass rod against stainless steel wire"),
    ),
    "rounds-inferred": ("warning", {"from": "order of rows"}, ("order of the rows", "round")),
    "incomplete-rounds": (
        "warning",
        {"missing": [RUN, {"element": "bronze-13", "round": 5}], "not_judged": ["zinc-12"]},
        ("in rounds 3 and 5", "zinc-coated steel wire"),
    ),
    "plan-not-stated": ("warning", {"rounds_done": 8, "planned_rounds": 6}, ("6", "8", "beforehand")),
    "unplanned-looks": (
        "warning",
        {"planned_rounds": 6, "rounds_done": 8, "promise": 0.06},
        ("6 rounds", "6 of 100", "not 5"),
    ),
    "rf-channel-unknown": ("warning", {"channels": ["Harbour 1", "Harbour 2"]}, ("2 channels", "Harbour 2")),
    "rf-channel-guessed": ("warning", {"groups": GROUPS}, ("RF channel 27 carries 27.1 and 27.2",)),
    "shared-rf-channel": (
        "note",
        {"groups": GROUPS, "channels": 36, "rf_channels": 24},
        ("36 channels stand on 24 signals", "27.2"),
    ),
    "blanks-read-as-lost": ("warning", {"count": 4, "of": 216}, ("4 of 216", "not scanned")),
    "at-ceiling": (
        "warning",
        {"readings": 30, "of": 216, "share": 0.1389, "rf_channels": ["27"]},
        ("30 of 216", "13.9 %", "top", "RF channel 27", "attenuator"),
    ),
    "at-floor": (
        "warning",
        {"readings": 30, "of": 216, "share": 0.1389, "rf_channels": []},
        ("bottom", "raise the level"),
    ),
    "unitless-total": ("note", {"unit": "bars"}, ("decibels", "scale steps")),
    "one-rf-channel": ("warning", {"rf_channel": "27"}, ("RF channel 27",)),
    "identical-runs": (
        "warning",
        {"pairs": [{"first": RUN, "second": {"element": "zinc-12", "round": 3}}]},
        ("in round 3", "zinc-coated steel wire", "copied"),
    ),
    "margin-below-repeatability": (
        "warning",
        {"margin": 0.5, "sd": 0.31234, "smallest_useful_margin": 0.62468},
        ("0.5 bars", "0.31 bars", "0.62 bars"),
    ),
    "rests-on-known-repeatability": (
        "warning",
        {"sd": 0.31, "degrees_of_freedom": 9, "from": "ten remounts"},
        ("0.31 bars", "9 degrees", "ten remounts"),
    ),
    "depends-on-channels": (
        "warning",
        {"pairs": [{"first": "brass-3", "second": "zinc-12", "low": -0.1234, "high": 0.9}]},
        ("3 mm brass rod against zinc-coated steel wire", "−0.12 to 0.90 bars"),
    ),
    "runs-struck": ("note", {"runs": [{**RUN, "reason": "gust"}]}, ("in round 3 (gust)",)),
    "outcome-hangs-on-strike": (
        "warning",
        {
            "with": {"outcome": "clear winner", "winner": "brass-3"},
            "without": {"outcome": "needs more runs", "winner": None},
        },
        ("“clear winner” (3 mm brass rod)", "“needs more runs”"),
    ),
    "twin-differs": (
        "stop",
        {
            "twin": "brass-3b",
            "of": "brass-3",
            "difference": 0.9,
            "low": 0.5,
            "high": 1.3,
            "others": [],
            **STOPPED,
        },
        ("second brass rod is a copy of 3 mm brass rod", "between 0.50 and 1.30 bars"),
    ),
    "pad-not-seen": (
        "stop",
        {
            "pad": "brass-3-pad",
            "of": "brass-3",
            "pad_db": 3.0,
            "difference": 0.4,
            "low": -0.2,
            "high": 1.0,
            "why": "not a clear winner",
            "others": [],
            **STOPPED,
        },
        ("brass rod with pad", "3 dB", "not show it to be clearly weaker"),
    ),
    "safety": ("note", {}, ("safety",)),
}
