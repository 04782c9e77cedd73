"""Archives that were damaged or tampered with: refused, or replayed to the verdict that is theirs.

python -m tests.faults.spoilt_archives --times 20000

Of eight archives four have one bit flipped, two are cut short, and two have a bit of one of their members
flipped, one of them where the verdict stands, and the list of digests made right again. Whatever is not
refused is replayed. A damaged archive must hold every member as it was and agree with itself; a forged one
may agree only where its own verdict says what the readings in it come to.
"""

import argparse
import random
import sys
import tempfile
import warnings
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from service.errors import ServiceError
from service.intake.strict_json import strict_json
from service.jobs.archive_zip import unzipped, zipped
from tests.jobs.archives import LIMITS, Archivist

SEED = 20261130
KINDS = ("flipped", "flipped", "cut", "forged", "flipped", "flipped", "cut", "lied")
JUDGED_OF_HARMLESS = 25
"""Of damaged archives with all members as they were, every so manieth is replayed: the rest is the same."""


@dataclass
class Came:
    """What came of them."""

    counts: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)

    def lines(self) -> list[str]:
        """The counts, as printed."""
        counted = ", ".join(f"{count} {what}" for what, count in sorted(self.counts.items()))
        return [counted, f"wrong verdicts accepted: {len(self.wrong)}"]


class Spoiling:
    """Spoils the archive of one trial, each time in another way."""

    def __init__(self, archivist: Archivist):
        self._archivist = archivist
        self._archive = archivist.archive()
        self._members = unzipped(self._archive, most_bytes=LIMITS.archive_bytes)
        self._verdict = strict_json(self._members["analysis.json"])["verdict"]
        self._dice = random.Random(SEED)
        self.came = Came()

    def run(self, times: int) -> Came:
        """Spoil so many times."""
        for number in range(times):
            kind = KINDS[number % len(KINDS)]
            body = getattr(self, f"_{kind}")()
            with warnings.catch_warnings():
                warnings.simplefilter("ignore", UserWarning)  # the library's about names given twice
                self._look(kind, body)
        return self.came

    def _flipped(self) -> bytes:
        return self._one_bit_other(self._archive)

    def _cut(self) -> bytes:
        return self._archive[: self._dice.randrange(len(self._archive))]

    def _forged(self) -> bytes:
        name = self._dice.choice([name for name, content in self._members.items() if content])
        return zipped(self._members | {name: self._one_bit_other(self._members[name])})

    def _lied(self) -> bytes:
        """Forged where the verdict stands."""
        told = self._members["analysis.json"]
        start = told.index(b'"verdict":')
        end = told.index(b'"elements":', start)
        lie = told[:start] + self._one_bit_other(told[start:end]) + told[end:]
        return zipped(self._members | {"analysis.json": lie})

    def _one_bit_other(self, body: bytes) -> bytes:
        changed = bytearray(body)
        changed[self._dice.randrange(len(changed))] ^= 1 << self._dice.randrange(8)
        return bytes(changed)

    def _look(self, kind: str, body: bytes) -> None:
        try:
            members = unzipped(body, most_bytes=LIMITS.archive_bytes)
            same = members == self._members
            if kind in {"flipped", "cut"} and not same:
                self.came.wrong.append(f"{kind}: opened with other members than it was made of")
            if same and self.came.counts[f"{kind}, harmless"] % JUDGED_OF_HARMLESS:
                self.came.counts[f"{kind}, harmless"] += 1
                return
            found = self._archivist.replay(body)
        except ServiceError as refusal:
            if refusal.status >= 500:
                self.came.wrong.append(f"{kind}: {refusal!r}")
            self.came.counts[f"{kind}, refused"] += 1
            return
        self._judge(kind, found, members, same=same)

    def _judge(self, kind: str, found: dict, members: dict[str, bytes], *, same: bool) -> None:
        """Agreement is due to an unharmed archive, and to no verdict but the one reached again."""
        told = strict_json(members["analysis.json"])["verdict"] if found["agrees"] else None
        if same and not found["agrees"]:
            self.came.wrong.append(f"{kind}: harmless, and does not agree: {found['differences'][:3]}")
        if not same and told is not None and told != self._verdict:
            self.came.wrong.append(f"{kind}: agrees with {str(told)[:300]}")
        outcome = (
            "harmless" if same else "agrees, the verdict untouched" if found["agrees"] else "does not agree"
        )
        self.came.counts[f"{kind}, {outcome}"] += 1


def main() -> int:
    """Print the counts; 1 where a wrong verdict was accepted."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults.spoilt_archives")
    parser.add_argument("--times", type=int, default=20_000)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="assay-spoilt-") as folder:
        archivist = Archivist(f"sqlite:///{Path(folder) / 'kept.sqlite3'}", Path(folder))
        came = Spoiling(archivist).run(asked.times)
        archivist.server.database.close()
    print("\n".join([*came.lines(), *came.wrong[:20]]))
    return bool(came.wrong)


if __name__ == "__main__":
    sys.exit(main())
