"""The whole calibration study, in parts that can be resumed, and the tables it ends in.

python -m tests.calibration.study --trials 5000 --workers 2 --parts FOLDER

Each part (one design) is a JSON file of counts in FOLDER; a part that is there with as many trials of the
same design is not done again. At the end `results.json` and `results.md` beside this file and
`reports/error_rates.json` are written, unless --only picks some designs by a part of their name.
"""

import argparse
import hashlib
import json
import sys
import zlib
from collections.abc import Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import asdict
from pathlib import Path

from tests.calibration.courses import parser
from tests.calibration.designs import Design, designs
from tests.calibration.rates import Rates, rates, rule
from tests.calibration.tables import COMMAND, error_rates, results

COUNTS = Path(__file__).with_name("results.json")
RESULTS = Path(__file__).with_name("results.md")
FOR_REPORTS = Path(__file__).parents[2] / "reports" / "error_rates.json"


def main() -> None:
    """Do the parts that are missing, tell the progress, write the tables."""
    asked = _arguments()
    asked.parts.mkdir(parents=True, exist_ok=True)
    every = [design for design in designs() if asked.only in design.key]
    missing = [design.key for design in every if kept(asked.parts, design, asked.trials) is None]
    with ProcessPoolExecutor(asked.workers) as pool:
        running = [pool.submit(do_part, key, asked.trials, asked.parts) for key in missing]
        for number, part in enumerate(as_completed(running), start=1):
            print(f"{number} of {len(missing)}: {part.result()}", file=sys.stderr, flush=True)
    if not asked.only:
        write_tables(asked.parts, asked.trials)


def write_tables(parts: Path, trials: int) -> None:
    """Write the counts and the tables from the parts of a whole study."""
    found = {design.key: kept(parts, design, trials) for design in designs()}
    lacking = [key for key, counts in found.items() if counts is None]
    if lacking:
        raise SystemExit(f"{len(lacking)} parts are missing, the first is {lacking[0]}")
    counts = {key: part for key, part in found.items() if part is not None}
    lines = [f"{json.dumps(key)}: {json.dumps(asdict(part))}" for key, part in counts.items()]
    COUNTS.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")
    RESULTS.write_text(results_text(counts), encoding="utf-8")
    FOR_REPORTS.write_text(error_rates_text(counts), encoding="utf-8")


def committed() -> dict[str, Rates]:
    """The counts of the study that is kept with the code, by the key of the design."""
    kept_counts = json.loads(COUNTS.read_text(encoding="utf-8"))
    return {key: Rates(**counts) for key, counts in kept_counts.items()}


def results_text(counts: Mapping[str, Rates]) -> str:
    """The table of all counts."""
    return results(designs(), counts, _command(counts))


def error_rates_text(counts: Mapping[str, Rates]) -> str:
    """What the reports print."""
    return error_rates(designs(), counts, _command(counts))


def _command(counts: Mapping[str, Rates]) -> str:
    return COMMAND.format(trials=next(iter(counts.values())).trials)


def do_part(key: str, trials: int, folder: Path) -> str:
    """Simulate one design and keep its counts."""
    part(next(one for one in designs() if one.key == key), trials, folder)
    return key


def part(design: Design, trials: int, folder: Path, *, seed: int = 0) -> Rates:
    """The counts of one design, kept in the folder; simulated only where they are not there."""
    found = kept(folder, design, trials)
    if found is None:
        found = measured(design, trials, seed=seed)
        folder.mkdir(parents=True, exist_ok=True)
        text = json.dumps(asdict(found) | {"design": fingerprint(design)})
        (folder / f"{design.key}.json").write_text(text, encoding="utf-8")
    return found


def measured(design: Design, trials: int, *, seed: int = 0) -> Rates:
    """The counts of one design; another seed gives other trials."""
    scores, means = design.draw(trials, zlib.crc32(design.key.encode()) + seed)
    if design.struck is not None:
        return design.struck(scores, means, rule(**design.rule))
    return rates(scores, means, rule(**design.rule), present=design.present)


def kept(folder: Path, design: Design, trials: int) -> Rates | None:
    """The counts of a part that was done with as many trials of this very design."""
    path = folder / f"{design.key}.json"
    if not path.exists():
        return None
    counts = json.loads(path.read_text(encoding="utf-8"))
    if counts.pop("design", None) != fingerprint(design) or counts["trials"] != trials:
        return None
    return Rates(**counts)


def fingerprint(design: Design) -> str:
    """Tells a part of another draw, truth, rule or pattern of runs from one of this design."""
    scores, means = design.draw(2, 1)
    held = b"" if design.present is None else design.present.tobytes()
    told = repr(sorted(design.rule.items())).encode()
    return hashlib.sha256(scores.tobytes() + means.tobytes() + held + told).hexdigest()[:16]


def _arguments() -> argparse.Namespace:
    asked = parser("Measure the promised error rates by simulation.", trials=5_000)
    asked.add_argument("--parts", type=Path, required=True)
    asked.add_argument("--only", default="", help="do the designs whose name holds this; no tables")
    return asked.parse_args()


if __name__ == "__main__":
    main()
