"""Evidence for every caution that an analysis can raise, with what its message must name."""

from typing import Any

RUN = {"element": "bronze-13", "round": 3}
STOPPED = {"pairs_touched": [["brass-3", "brass-3b"]], "pairs_standing": [["brass-3", "steel-14"]]}
GROUPS = [{"rf_channel": "27", "channels": ["27.1", "27.2"]}]

# code: (severity, evidence, words that the message must hold)
CAUTIONS: dict[str, tuple[str, dict[str, Any], tuple[str, ...]]] = {
    "one-round": (
        "warning",
        {"rounds_done": 1, "fewest_rounds": 3, "known_noise": False, "most_mountings": 1},
        ("once", "3 rounds"),
    ),
    "few-rounds": (
        "warning",
        {"rounds_done": 2, "planned_rounds": 6, "fewest_rounds": 3, "known_noise": False},
        ("2 of 6 rounds", "With fewer than 3 rounds"),
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
    "far-apart": (
        "warning",
        {"rounds": [{"round": 2, "hours": 3.5}, {"round": 4, "hours": 2.4}], "allowed_hours": 2.0},
        ("rounds 2 and 4", "3.5 hours apart (round 2)", "in one go", "about 2 hours"),
    ),
    "not-connected": (
        "warning",
        {"groups": [["brass-3", "zinc-12"], ["steel-14"]]},
        ("3 mm brass rod and zinc-coated steel wire; stainless steel wire", "every group"),
    ),
    "order-fixed": (
        "warning",
        {
            "orders": [{"round": n, "elements": ["brass-3", "bronze-13", "zinc-12"]} for n in range(1, 7)],
            "always": [{"element": "brass-3", "place": 1}],
            "p_value": 0.0001,
            "order_from": "order of rows",
        },
        ("3 mm brass rod always came in place 1", "read from the rows", "a new order for every round"),
    ),
    "plan-not-stated": ("warning", {"rounds_done": 8, "planned_rounds": 6}, ("6", "8", "beforehand")),
    "plan-changed": (
        "warning",
        {
            "changes": [
                {
                    "number": 1,
                    "at": "2026-05-13T08:00:00Z",
                    "reason": "the old one was too fine",
                    "before": {"margin": 0.5, "reference": None},
                    "after": {"margin": 0.8, "reference": "brass-3"},
                }
            ],
            "under_first_margin": {"margin": 0.5, "outcome": "clear winner", "winner": "brass-3"},
        },
        (
            "on 13 May 2026 the margin from 0.5 to 0.8 and the reference from none to 3 mm brass rod (the",
            "count as they were first",
            "the first margin of 0.5 bars the outcome is “clear winner” (3 mm brass rod)",
        ),
    ),
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
    "coarse-meter": (
        "note",
        {"ties": 130, "of": 216, "share": 0.6019, "resolution": 1.0},
        ("130 of 216", "60.2 %", "one step is 1 bar", "finer steps"),
    ),
    "unitless-total": ("note", {"unit": "bars"}, ("decibels", "scale steps")),
    "one-rf-channel": ("warning", {"rf_channel": "27"}, ("RF channel 27",)),
    "identical-runs": (
        "warning",
        {"pairs": [{"first": RUN, "second": {"element": "zinc-12", "round": 3}}]},
        ("in round 3", "zinc-coated steel wire", "copied"),
    ),
    "drift": (
        "warning",
        {
            "element": "brass-3",
            "over_trial": -1.2345,
            "low": -1.8,
            "high": -0.67,
            "slope_per_hour": -0.2,
            "slope_per_run": None,
            "p_value": 0.003,
            "margin": 0.5,
        },
        ("3 mm brass rod, the reference, fell by 1.23 bars", "−1.80 and −0.67 bars", "0.5 bars", "short"),
    ),
    "reference-step": (
        "warning",
        {
            "element": "brass-3",
            "last_before": 3,
            "first_after": 5,
            "step": 1.234,
            "sd": 0.123,
            "p_value": 0.002,
        },
        ("3 mm brass rod", "between rounds 3 and 5 it rose by 1.23 bars", "0.12 bars", "Find it"),
    ),
    "unequal-noise": (
        "stop",
        {
            "element": "zinc-12",
            "sd": 0.8765,
            "others_sd": 0.2123,
            "times": 4.1286,
            "most_times": 3.0,
            "p_value": 0.001,
            "rounds": [1, 2, 3, 4, 5, 6],
            "pairs_touched": [["brass-3", "zinc-12"]],
            "pairs_standing": [["brass-3", "steel-14"]],
        },
        ("zinc-coated steel wire moves 4.1 times", "0.88 bars against 0.21 bars", "up to 3 times, so"),
    ),
    "odd-run": (
        "warning",
        {"runs": [RUN], "deviation": -2.345, "sd": 0.31, "p_value": 0.0004},
        ("in round 3", "2.34 bars below", "0.31 bars", "never take it out for what it reads"),
    ),
    "odd-channel-round": (
        "note",
        {
            "rf_channel": "27",
            "round": 4,
            "move": -3.21,
            "moves": [{"element": "brass-3", "move": -3.0}, {"element": "zinc-12", "move": -3.42}],
            "sd": 0.4,
            "p_value": 0.0001,
        },
        ("In round 4 RF channel 27", "3.21 bars lower", "zinc-coated steel wire −3.4", "transmitter"),
    ),
    "margin-below-repeatability": (
        "warning",
        {"margin": 0.5, "sd": 0.31234, "smallest_useful_margin": 0.62468},
        ("0.5 bars", "0.31 bars", "0.62 bars"),
    ),
    "rests-on-known-repeatability": (
        "warning",
        {"sd": 0.31, "degrees_of_freedom": 9, "from": "ten remounts", "source": "known", "rounds": 1},
        ("1 round only", "0.31 bars", "9 degrees", "ten remounts", "elsewhere"),
    ),
    "depends-on-channels": (
        "warning",
        {"pairs": [{"first": "brass-3", "second": "zinc-12", "low": -0.1234, "high": 0.9, "p_value": 0.004}]},
        ("3 mm brass rod against zinc-coated steel wire", "−0.12 to 0.90 bars", "more than chance"),
    ),
    "bands-disagree": (
        "warning",
        {
            "pairs": [
                {
                    "first": "brass-3",
                    "second": "zinc-12",
                    "bands": [
                        {"band": "VHF-high", "difference": 0.8, "low": 0.3, "high": 1.3},
                        {"band": "UHF", "difference": -0.6, "low": -1.1, "high": -0.1},
                    ],
                }
            ],
            "level": 0.99,
        },
        ("in VHF-high it reads 0.80 bars higher (0.30 to 1.30 bars)", "in UHF it reads 0.60 bars lower"),
    ),
    "one-rf-channel-decides": (
        "warning",
        {
            "rf_channel": "31",
            "elements": [
                {"element": "brass-3", "received_rounds": 6, "scanned_rounds": 6},
                {"element": "zinc-12", "received_rounds": 0, "scanned_rounds": 6},
            ],
            "p_value": 0.03,
            "p_value_without": 0.4123,
        },
        ("RF channel 31 alone", "zinc-coated steel wire 0 of 6", "p = 0.41"),
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
    "geometry-differs": (
        "warning",
        {
            "pairs": [{"first": "brass-3", "second": "zinc-12", "diameter": 0.1538, "length": 0.0123}],
            "most_diameter": 0.05,
            "most_length": 0.005,
        },
        ("3 mm brass rod and zinc-coated steel wire in diameter by 15.4 % and length by 1.2 %",),
    ),
    "several-things-differ": (
        "warning",
        {"pairs": [["brass-3", "zinc-12"]]},
        ("between 3 mm brass rod and zinc-coated steel wire", "not whether metal or diameter"),
    ),
    "gauge-table-unknown": (
        "warning",
        {
            "elements": [
                {
                    "element": "bronze-13",
                    "number": 13,
                    "meanings": [
                        {"table": "awg", "diameter_mm": 1.828},
                        {"table": "swg", "diameter_mm": 2.3368},
                    ],
                }
            ]
        },
        ("gauge number 13 alone means 1.83 mm in awg or 2.34 mm in swg", "Measure the diameter"),
    ),
    "beyond-conductor-loss": (
        "warning",
        {
            "pairs": [
                {"first": "brass-3", "second": "zinc-12", "difference": 2.34, "metal_bound_db": 0.0213}
            ],
            "times": 10.0,
        },
        ("0.021 dB at most", "over 10 times", "joint"),
    ),
    "safety": ("note", {}, ("safety",)),
}
