"""Speed and size, each figure a ratio of two things measured in one run, or a size, with its bar beside it.

`python -m tests.benchmarks.all` runs every module here in a process of its own and writes results.md and the
README's promises; `python -m tests.benchmarks.NAME` runs one and prints its rows of the table.
"""

import os

os.environ["OPENBLAS_NUM_THREADS"] = "1"  # as the service's workers do: one core each, for us and for peers
