"""Sends readings to a kept trial as a logger takes them: each run of an element as a batch of NDJSON.

    my-logger | SERVER=http://127.0.0.1:8080 TRIAL=3f0c... BUFFER=readings python post-readings.py

The logger writes one JSON object a line, such as

    {"element": "rod", "round": 1, "channel": "27.1", "value": 8.5}

It needs httpx (pip install httpx). Each line is on the disk before the next one is read, a finished run
becomes a file named by a key, and a file goes only after the service has kept it. It is sent again and again
with the same Idempotency-Key, so that nothing is lost and nothing kept twice, wherever anybody is cut off.
What waits when this ends is sent at the next start. Where the service wants a token, AERIAL_ASSAY_TOKEN
has it.
"""

import json
import os
import sys
import time
import uuid
from pathlib import Path

import httpx

BUFFER = Path(os.environ.get("BUFFER", "readings"))
OPEN = BUFFER / "open"  # the lines of the run that is being taken
REFUSED = {400, 413, 415, 422}  # answers that stay the same however often the batch is sent
PATIENCE = float(os.environ.get("PATIENCE", "600"))  # seconds of trying at the end


def flush(path):
    """Wait until the disk holds a file, or the names in a folder."""
    number = os.open(path, os.O_RDONLY)
    os.fsync(number)
    os.close(number)


def close_run():
    """Make the lines of a finished run a batch, under a name that sorts by time and is its key."""
    if OPEN.exists():
        if not OPEN.read_bytes().endswith(b"\n"):  # the power went while it was written
            whole = OPEN.read_bytes().rpartition(b"\n")[0]
            OPEN.write_bytes(whole + b"\n")
        OPEN.rename(BUFFER / f"{time.time_ns():020}-{uuid.uuid4().hex}.ndjson")
        flush(BUFFER)


def send(http, batch):
    """Whether a batch is off our hands: kept by the service, or refused and laid aside for you to mend."""
    headers = {"Content-Type": "application/x-ndjson", "Idempotency-Key": batch.stem}
    path = f"/v1/trials/{os.environ['TRIAL']}/readings"
    try:
        answer = http.post(path, content=batch.read_bytes(), headers=headers)
    except httpx.HTTPError as error:
        print(f"waiting: {error or type(error).__name__}", file=sys.stderr)
        return False
    if answer.is_success:
        batch.unlink()
    elif answer.status_code in REFUSED:
        print(f"laid aside as {batch.name}.refused: {answer.text}", file=sys.stderr)
        batch.rename(f"{batch}.refused")
    else:
        print(f"waiting: {answer.text}", file=sys.stderr)
        return False
    return True


def send_all(http):
    """Send what waits, the oldest first, until one has to wait on; whether all is gone."""
    return all(send(http, batch) for batch in sorted(BUFFER.glob("*.ndjson")))


def keep(line, last):
    """Put a line on the disk, behind those of its run; the run that it is of."""
    reading = json.loads(line)
    run = (reading["element"], reading.get("round"), reading.get("mounting"))
    if run != last:
        close_run()
    with OPEN.open("a", encoding="utf-8") as file:
        file.write(line.strip() + "\n")
    flush(OPEN)
    flush(BUFFER)
    return run


def main():
    """Take lines until there are no more, then send what waits."""
    BUFFER.mkdir(parents=True, exist_ok=True)
    close_run()  # what an earlier start left
    token = os.environ.get("AERIAL_ASSAY_TOKEN")
    headers = {"Authorization": f"Bearer {token}"} if token else {}
    with httpx.Client(base_url=os.environ["SERVER"], headers=headers, timeout=60) as http:
        run = None
        for line in sys.stdin:
            if not line.strip():
                continue
            before, run = run, keep(line, run)
            if run != before:
                send_all(http)
        close_run()
        pause, end = 1.0, time.monotonic() + PATIENCE
        while not send_all(http):
            if time.monotonic() > end:
                sys.exit("Not all could be sent; the next start sends the rest.")
            time.sleep(pause)
            pause = min(pause * 2, 60)


if __name__ == "__main__":
    main()
