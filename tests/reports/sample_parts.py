"""The parts of an invented analysis document that need no judgement."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Document = dict[str, Any]
Readings = NDArray[np.float64]

ELEMENTS: dict[str, Document] = {
    "brass-3": {
        "label": "3 mm brass rod",
        "material": "brass",
        "form": "rod",
        "diameter_mm": 3.0,
        "length_mm": 690.0,
        "condition": "new",
        "cost": {"amount": 4.2, "currency": "EUR"},
    },
    "bronze-13": {
        "label": "bronze wire, 13 gauge",
        "material": "phosphor bronze",
        "form": "wire",
        "gauge": {"table": "swg", "number": 13},
        "condition": "new",
        "cost": {"amount": 2.9, "currency": "EUR"},
    },
    "zinc-12": {
        "label": "zinc-coated steel wire",
        "material": "zinc-coated steel",
        "coating": "zinc",
        "form": "wire",
        "diameter_mm": 2.6,
        "condition": "one winter outdoors",
        "cost": {"amount": 0.8, "currency": "EUR"},
    },
    "steel-14": {
        "label": "stainless steel wire",
        "material": "stainless steel",
        "form": "wire",
        "diameter_mm": 2.0,
    },
    "brass-3b": {"label": "second brass rod", "material": "brass", "twin_of": "brass-3"},
    "brass-3-pad": {"label": "brass rod with pad", "pad_of": "brass-3", "pad_db": 3.0},
}
BARS: Document = {
    "unit": "bars",
    "lowest": 0,
    "highest": 10,
    "resolution": 1,
    "needed": None,
    "impedance_ohm": None,
}


def trial_document(*, elements: list[str], channels: int, **fields: Any) -> Document:
    """A trial document with its defaults filled in; names that are not known stand for themselves."""
    trial = {
        "title": "Quayside whip trial (invented)",
        "meter": BARS,
        "margin": 0.5,
        "confidence": 0.95,
        "planned_rounds": 6,
        "looks": "every round",
        "reference": "brass-3",
        "region": None,
        "seed": 1,
        "compares": "element",
        "elements": [{"id": name, **ELEMENTS.get(name, {"label": name})} for name in elements],
        "channels": [{"id": f"Harbour {n + 1}", "rf_channel": str(21 + n * 2 // 3)} for n in range(channels)],
        "struck": [],
        "known_repeatability": None,
        "minutes_per_run": 12,
        "taken_by": "the harbour club",
        "site": "indoor, upper floor",
    }
    return trial | fields


def caution(code: str, severity: str, **evidence: Any) -> Document:
    """A caution without its message."""
    return {"code": code, "severity": severity, "message": None, "evidence": evidence}


def read_as(trial: Document, values: Readings) -> Document:
    """How an invented wide table was understood."""
    headings = ["element", "round", "channel", "value", "rf_channel", "at"]
    return {
        "media_type": "text/csv",
        "shape": "long",
        "encoding": "utf-8",
        "byte_order_mark": False,
        "delimiter": ",",
        "decimal_mark": ".",
        "header_row": 1,
        "sheet": None,
        "columns": [{"heading": heading, "read_as": heading} for heading in headings],
        "rows": int(values.size),
        "elements": len(values),
        "channels": values.shape[2],
        "blanks_read_as_lost": 0,
        "not_scanned": 0,
        "marks": {},
        "skipped": [],
        "notes": [],
        "runs": int(values.shape[0] * values.shape[1]),
        "rounds": values.shape[1],
        "rf_channels": len({entry["rf_channel"] for entry in trial["channels"]}),
        "rounds_from": "round column",
        "resolution": trial["meter"]["resolution"],
        "resolution_from": "stated",
        "left_out": [],
    }


def reception(trial: Document, values: Readings) -> Document:
    """Which signals came in; of three elements or more the last one loses a signal in half of the rounds."""
    names = list(dict.fromkeys(entry["rf_channel"] for entry in trial["channels"]))
    rounds, last = values.shape[1], trial["elements"][-1]["id"]
    lost = {(last, names[0])} if len(trial["elements"]) > 2 else set()

    def run(element: str, number: int) -> Document:
        missing = sum(one == element and 2 * number > rounds + 1 for one, _ in lost)
        return {
            "round": number,
            "scanned": len(names),
            "received": len(names) - missing,
            "gained": 0,
            "lost": missing,
        }

    def cell(element: str, name: str) -> Document:
        got = rounds // 2 if (element, name) in lost else rounds
        return {"id": name, "received_rounds": got, "scanned_rounds": rounds}

    ids = [entry["id"] for entry in trial["elements"]]
    pairs = [
        {
            "first": a,
            "second": b,
            "only_first": [n for n in names if (b, n) in lost],
            "only_second": [],
            "p_value": 0.25,
        }
        for index, a in enumerate(ids)
        for b in ids[index + 1 :]
    ]
    return {
        "unit": "round",
        "against": ids[0],
        "elements": [
            {
                "id": name,
                "rf_channels": [cell(name, signal) for signal in names],
                "by_round": [run(name, number + 1) for number in range(rounds)],
            }
            for name in ids
        ],
        "cochran_q": {"statistic": 2.4, "p_value": 0.31} if lost else {"statistic": None, "p_value": None},
        "pairs": pairs,
        "headroom": None,
    }


def channel_entries(trial: Document, values: Readings) -> list[Document]:
    """Mean and range of every element on every channel."""
    return [
        {
            "id": entry["id"],
            "rf_channel": entry["rf_channel"],
            "band": None,
            "elements": [
                {
                    "element": given["id"],
                    "mean": float(values[k, :, c].mean()),
                    "low": float(values[k, :, c].min()),
                    "high": float(values[k, :, c].max()),
                }
                for k, given in enumerate(trial["elements"])
            ],
        }
        for c, entry in enumerate(trial["channels"])
    ]


def schedule(trial: Document, rounds: int) -> Document:
    """A schedule with no look before the third round."""
    planned = trial["planned_rounds"]
    alpha = 1 - trial["confidence"]
    rows = [
        {
            "round": number,
            "spent": alpha * 0.8 * min(1.0, (number / planned) ** 2),
            "level": alpha * 0.1 if number >= 3 else None,
            "critical": 4.5 - 0.2 * number if number >= 3 else None,
        }
        for number in range(1, max(planned, rounds) + 1)
    ]
    return {"planned_rounds": planned, "this": rounds, "schedule": rows}


def beside_pair(gap: NDArray[np.float64], *, known: bool) -> Document:
    """What stands beside a pair and decides nothing."""
    level = {"low": float(gap.mean() - 0.4), "high": float(gap.mean() + 0.4), "level": 0.95}
    boot = {**level, "method": "expanded percentile", "resamples": 9999}
    walsh = {"estimate": float(gap.mean()), **level, "level": 0.96875}
    return {
        "bootstrap": boot if known else None,
        "signed_rank": {"statistic": 21.0, "p_value": 0.03125, "method": "exact", "n": len(gap), "zeros": 0},
        "sign_test": {"positive": len(gap), "negative": 0, "ties": 0, "p_value": 0.03125},
        "hodges_lehmann": walsh
        if known
        else {"estimate": float(gap.mean()), "low": None, "high": None, "level": None},
        "rank_biserial": 1.0,
        "rf_channels": {"favour_first": 15, "favour_second": 6, "ties": 2, "left_out": 1},
    }


def method(trial: Document, elements: int, rounds: int) -> Document:
    """Seed, draws and versions."""
    many = elements > 2 and rounds > 2
    return {
        "seed": trial["seed"],
        "permutations": 19999 if many else 2**rounds,
        "enumerated": not many,
        "resamples": 9999,
        "unit": "round",
        "design": "rounds",
        "critical": {"shuffled": 3.21, "bell_shaped": 3.34, "leader": 2.51} if many else None,
        "draws": {"bell_shaped": 100000, "shuffled": 19999 if many else 0},
        "version": "0.1.0",
        "versions": {"aerial-assay": "0.1.0", "python": "3.11.2", "numpy": "2.4.6", "scipy": "1.17.0"},
        "order_seed": None,
    }
