"""The memory of a process after verdicts on 8 elements x 6 rounds x 36 channels.

python tests/benchmarks/memory.py
"""

from pathlib import Path
from tempfile import TemporaryDirectory

from workload import peak_megabytes, request_body, say

from service.jobs.verdicts import Batch, verdict_document
from service.settings import Limits

BAR_MB = 350.0


def main() -> None:
    """Print the peak."""
    batch = Batch(request_body(), "application/json")
    with TemporaryDirectory() as folder:
        for _ in range(5):
            verdict_document(batch, Limits(), Path(folder))
    say("memory of a process that made verdicts, at its peak", peak_megabytes(), BAR_MB, unit="MB")


if __name__ == "__main__":
    main()
