"""The whole calibration study, in parts that can be resumed, and the table it ends in.

python -m tests.calibration.study --trials 5000 --workers 2 --parts FOLDER

Each part (one design) is a JSON file of counts in FOLDER; a part that is there with as many trials is not
done again. At the end tests/calibration/results.md is written.
"""

import argparse
import json
import sys
import zlib
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import asdict
from pathlib import Path

from tests.calibration.designs import Design, designs
from tests.calibration.rates import Rates, most_allowed, rates, rule

RESULTS = Path(__file__).with_name("results.md")
COMMAND = "python -m tests.calibration.study --trials {trials} --workers 2 --parts FOLDER"


def main() -> None:
    """Do the parts that are missing, tell the progress, write the table."""
    asked = _arguments()
    asked.parts.mkdir(parents=True, exist_ok=True)
    every = designs()
    missing = [design.key for design in every if not _done(asked.parts, design, asked.trials)]
    with ProcessPoolExecutor(asked.workers) as pool:
        running = [pool.submit(do_part, key, asked.trials, asked.parts) for key in missing]
        for number, part in enumerate(as_completed(running), start=1):
            print(f"{number} of {len(missing)}: {part.result()}", file=sys.stderr, flush=True)
    RESULTS.write_text(table(every, asked.parts, asked.trials), encoding="utf-8")


def do_part(key: str, trials: int, folder: Path) -> str:
    """Simulate one design and keep its counts."""
    design = next(one for one in designs() if one.key == key)
    scores, means = design.draw(trials, zlib.crc32(key.encode()))
    counts = rates(scores, means, rule(**design.rule))
    (folder / f"{key}.json").write_text(json.dumps(asdict(counts)), encoding="utf-8")
    return key


def table(every: list[Design], folder: Path, trials: int) -> str:
    """The counts as a Markdown document; a rate above what chance allows of the promise is marked."""
    head = [
        "# Promised error rates, measured",
        "",
        f"{trials} simulated trials a design, looked at after every round to twice the plan of six.",
        "Made by:",
        "",
        "```",
        COMMAND.format(trials=trials),
        "```",
        "",
        "`most` is what chance allows in 999 of 1000 studies if the true rate is the promised one;",
        "a count above it is marked `over`. Designs without a promise say how often the rule is wrong there.",
        "",
        "| noise | truth | elements | promise | pair falsely called | winner falsely named |"
        " falsely within noise | most | |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    return "\n".join([*head, *(_row(design, _counts(folder, design)) for design in every), ""])


def _row(design: Design, counts: Rates) -> str:
    errors = (counts.false_calls, counts.false_winners, counts.false_within)
    shares = " | ".join(f"{error / counts.trials:.4f}" for error in errors)
    if design.promise is None:
        return f"| {design.name} | {design.truth} | {design.elements} | none | {shares} | | |"
    most = most_allowed(design.promise, counts.trials)
    mark = "over" if max(errors) > most else ""
    promised = f"{design.promise:.2f}"
    bound = f"{most / counts.trials:.4f}"
    return (
        f"| {design.name} | {design.truth} | {design.elements} | {promised} | {shares} | {bound} | {mark} |"
    )


def _counts(folder: Path, design: Design) -> Rates:
    return Rates(**json.loads((folder / f"{design.key}.json").read_text(encoding="utf-8")))


def _done(folder: Path, design: Design, trials: int) -> bool:
    return (folder / f"{design.key}.json").exists() and _counts(folder, design).trials == trials


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Measure the promised error rates by simulation.")
    parser.add_argument("--trials", type=int, default=5_000)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--parts", type=Path, required=True)
    return parser.parse_args()


if __name__ == "__main__":
    main()
