"""Bombs of text: JSON, lines of JSON, tables, forms."""

import json
from collections.abc import Callable, Iterator

from tests.faults.bomb import CSV, FORM, JSON, MILLION, NDJSON, OF_TABLE, TRIALS, TSV, VERDICT, Bomb

HEADING = b"element,round,channel,value\n"


def text_bombs() -> Iterator[Bomb]:
    """All of them."""
    yield from _json()
    yield from _lines()
    yield from _tables()
    yield from _forms()


def _trial(member: bytes) -> bytes:
    return b'{"trial":{' + member + b'},"readings":[]}'


def _readings(entry: bytes, times: int) -> bytes:
    return b'{"trial":{"meter":{"unit":"bars"}},"readings":[' + b",".join([entry] * times) + b"]}"


def _json() -> Iterator[Bomb]:
    deep = 100_000
    bodies: dict[str, Callable[[], bytes]] = {
        "lists in lists": lambda: b"[" * deep,
        "lists in lists, closed": lambda: b"[" * deep + b"]" * deep,
        "objects in objects": lambda: b'{"a":' * deep + b"1" + b"}" * deep,
        "lists in a reading": lambda: (
            b'{"trial":{},"readings":[{"value":' + b"[" * deep + b"]" * deep + b"}]}"
        ),
        "a whole number of a million digits": lambda: _trial(b'"seed":' + b"9" * MILLION),
        "a fraction of a million digits": lambda: _trial(b'"margin":0.' + b"9" * MILLION + b"e999"),
        "an exponent of a million digits": lambda: _trial(b'"margin":1e' + b"9" * MILLION),
        "a million digits beyond the small bodies": lambda: (
            b'{"trial":{"seed":' + b"9" * MILLION + b'},"readings":[' + b"0," * MILLION + b"0]}"
        ),
        "one key a hundred thousand times": lambda: _trial(b'"seed":1,' * 100_000 + b'"seed":1'),
        "a hundred thousand unknown keys": lambda: json.dumps({f"k{n}": n for n in range(100_000)}).encode(),
        "a hundred thousand empty readings": lambda: _readings(b"{}", 100_000),
        "more readings than are taken": lambda: _readings(b"0", MILLION + 1),
        "a text of ten million characters": lambda: _trial(b'"title":"' + b"a" * 10**7 + b'"'),
        "a hundred thousand elements": lambda: _trial(
            b'"elements":[' + b",".join(b'{"id":"e%d"}' % n for n in range(100_000)) + b"]"
        ),
        "no number": lambda: b'{"trial":{"margin":NaN},"readings":[' + b"-Infinity," * 1000 + b"0]}",
    }
    for name, body in bodies.items():
        yield Bomb(f"JSON: {name}", body, JSON, VERDICT)
    yield Bomb("trial: objects in objects", bodies["objects in objects"], JSON, TRIALS)
    yield Bomb("plan: lists in lists", bodies["lists in lists, closed"], JSON, "/v1/plans")
    yield Bomb("design check: objects in objects", bodies["objects in objects"], JSON, "/v1/design-checks")
    yield Bomb(
        "loss: a million digits", lambda: b'{"load_ohm":' + b"9" * MILLION + b"}", JSON, "/v1/conductor-loss"
    )


def _lines() -> Iterator[Bomb]:
    yield Bomb("NDJSON: a million empty lines", lambda: b"\n" * MILLION + b"{", NDJSON)
    yield Bomb("NDJSON: a million lines that open a list", lambda: b"[\n" * MILLION, NDJSON)
    yield Bomb("NDJSON: one line, lists in lists", lambda: b"[" * MILLION, NDJSON)
    yield Bomb("NDJSON: a hundred thousand empty objects", lambda: b"{}\n" * 100_000, NDJSON)


def _tables() -> Iterator[Bomb]:
    bodies: dict[str, Callable[[], bytes]] = {
        "a million columns": lambda: b"channel" + b",a@1" * MILLION + b"\n27" + b",5" * MILLION + b"\n",
        "a million headings of another element": lambda: (
            b"channel," + b",".join(b"e%d@1" % n for n in range(MILLION)) + b"\n27\n"
        ),
        "a flood of quoted newlines": lambda: HEADING + b'"\n",' * MILLION,
        "a quotation mark that is never closed": lambda: HEADING + b'"' + b"a,1,c,5\n" * MILLION,
        "nothing but quotation marks": lambda: b'"' * (4 * MILLION),
        "nothing but separators": lambda: b"," * (4 * MILLION),
        "nothing but newlines": lambda: b"\n" * (4 * MILLION),
        "nothing but NUL": lambda: b"\0" * (4 * MILLION),
        "nothing but byte order marks": lambda: b"\xef\xbb\xbf" * MILLION,
        "a cell of twenty million characters": lambda: HEADING + b"a" * (20 * MILLION) + b",1,c,5\n",
        "a value of a million digits": lambda: HEADING + b"a,1,c," + b"9" * MILLION + b"\n",
        "a round of a million digits": lambda: HEADING + b"a," + b"9" * MILLION + b",c,5\n",
        "more rows than are taken": lambda: HEADING + b"a,1,c,5\n" * (MILLION + 1),
        "a hundred thousand channels": lambda: HEADING + b"".join(b"a,1,c%d,5\n" % n for n in range(100_000)),
        "a hundred thousand bad values": lambda: (
            HEADING + b"".join(b"a,%d,c%d,x%d\n" % (n // 500, n % 500, n) for n in range(100_000))
        ),
        "a heading that ends nowhere": lambda: b"element" * MILLION,
        "UTF-16 cut in the middle": lambda: (
            b"\xff\xfe" + HEADING.decode().encode("utf-16-le") * 50_000 + b"a"
        ),
    }
    for name, body in bodies.items():
        yield Bomb(f"CSV: {name}", body, CSV)
    yield Bomb("TSV: a million columns", lambda: b"channel" + b"\ta@1" * MILLION + b"\n", TSV)
    marks = ",".join(f"m{n}" for n in range(3000))
    yield Bomb(
        "CSV: three thousand marks",
        lambda: HEADING + b"a,1,c,?\n" * 1000,
        CSV,
        f"{OF_TABLE}&nothing_found={marks}",
    )


def _forms() -> Iterator[Bomb]:
    part = b'--b\r\nContent-Disposition: form-data; name="%s"\r\n\r\nx\r\n'
    bodies: dict[str, Callable[[], bytes]] = {
        "a hundred thousand parts": lambda: part % b"readings" * 100_000 + b"--b--\r\n",
        "a part that never ends": lambda: part % b"readings" + b"x" * (20 * MILLION),
        "a head that never ends": lambda: b"--b\r\nContent-Disposition: " + b"x" * (4 * MILLION),
        "heads without end": lambda: b"--b\r\n" + b"X-A: b\r\n" * 400_000,
        "boundaries that are none": lambda: b"\r\n--a" * MILLION,
        "a field of ten megabytes": lambda: (part % b"trial")[:-3] + b"x" * 10**7 + b"\r\n--b--\r\n",
    }
    for name, body in bodies.items():
        yield Bomb(f"form: {name}", body, FORM, VERDICT)
