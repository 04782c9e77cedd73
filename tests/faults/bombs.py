"""Small or cheap bodies that would cost a careless reader everything: each is refused, and soon.

python -m tests.faults.bombs prints for each its size, the answer and the seconds; it asks the application
itself, with the limits that it has by default and without worker processes. The bar is one second of one
core.
"""

import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from service.app import create_app
from service.settings import Settings
from tests.faults.bomb import VERDICT, Bomb
from tests.faults.text_bombs import text_bombs
from tests.faults.zip_bombs import zip_bombs

BAR_SECONDS = 1.0


def bombs() -> Iterator[Bomb]:
    """All of them."""
    yield from text_bombs()
    yield from zip_bombs()


def main() -> int:
    """Print every bomb; 1 where one is not refused within the bar."""
    wrong = 0
    with tempfile.TemporaryDirectory(prefix="assay-bombs-") as folder:
        app = create_app(Settings(database=f"sqlite:///{Path(folder) / 'kept.sqlite3'}"))
        client = app.test_client()
        client.post(VERDICT, json={})  # what is loaded when it is first used
        for bomb in bombs():
            body = bomb.body()
            began = time.process_time()
            answer = client.post(bomb.path, data=body, content_type=bomb.media_type)
            seconds = time.process_time() - began
            bad = not 400 <= answer.status_code < 500 or seconds > BAR_SECONDS
            wrong += bad
            mark = "  <-- not within the bar" if bad else ""
            print(
                f"{bomb.name:55} {len(body):>11} bytes  {answer.status_code}  {seconds:6.3f} s{mark}",
                flush=True,
            )
        app.close()
    print(f"{wrong} of them not refused within {BAR_SECONDS} s")
    return bool(wrong)


if __name__ == "__main__":
    sys.exit(main())
