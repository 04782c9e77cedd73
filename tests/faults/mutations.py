"""Bodies made from good ones by what goes wrong on the way, and by what somebody might try."""

import io
import random
import re
import zipfile
from collections.abc import Callable, Sequence

LONGEST = 64 * 2**10
NUMBERS = [
    b"-0",
    b"1e308",
    b"-1e308",
    b"1e999",
    b"0x1F",
    b"9" * 400,
    b"1,5",
    b"1.024,5",
    b"7/10",
    b"NaN",
    b"inf",
    b"1e-320",
    b"00012",
    b"18446744073709551616",
    b"-9223372036854775809",
    b"0.1e",
    b"\xd9\xa3",
    b"85 %",
]
PIECES = [
    *NUMBERS,
    b"",
    b" ",
    b",",
    b";",
    b"\t",
    b"\n",
    b"\r",
    b"\r\n",
    b'"',
    b'""',
    b"'",
    b"\\",
    b"\x00",
    b"\xff",
    b"\xfe\xff",
    b"\xef\xbb\xbf",
    b"\xc2\xa0",
    b"\xe2\x88\x92",
    b"\xe2\x80\xae",
    b"\xed\xa0\x80",
    b"\xf0\x9f\x93\xa1",
    b"\\u0000",
    b"\\ud800",
    b"{",
    b"}",
    b"[",
    b"]",
    b"[[[[[[[[",
    b":",
    b"null",
    b"true",
    b"{}",
    b"[]",
    b"=1+1",
    b"@SUM(A1)",
    b"#REF!",
    b"sep=;\n",
    b"element@1",
    b"@",
    b"total",
    b"Total",
    b"none",
    b"not scanned",
    b"2026-02-30",
    b"2026-05-12T10:00:00Z",
    b"dBm",
    b"%",
    b"<!DOCTYPE a [<!ENTITY b 'c'>]>",
    b"&b;",
    b"<",
    b">",
    b"</c>",
    b"]]>",
    b"../",
    b"--",
    b"Content-Type",
    b'"element"',
    b'"round"',
    b'"value"',
    b'"trial"',
    b'"readings"',
    b"element",
    b"round",
    b"channel",
    b"value",
]
"""What is put into bodies: the signs that parsers look for, and values at the ends of what they know."""
NUMBER = re.compile(rb"\d+(?:\.\d+)?")
Mutation = Callable[[bytearray, random.Random], None]


def _flip(body: bytearray, dice: random.Random) -> None:
    if body:
        body[dice.randrange(len(body))] ^= 1 << dice.randrange(8)


def _put(body: bytearray, dice: random.Random) -> None:
    at = dice.randint(0, len(body))
    body[at:at] = dice.choice(PIECES)


def _overwrite(body: bytearray, dice: random.Random) -> None:
    piece, at = dice.choice(PIECES), dice.randint(0, len(body))
    body[at : at + len(piece)] = piece


def _take_out(body: bytearray, dice: random.Random) -> None:
    start, end = _span(body, dice)
    del body[start:end]


def _repeat(body: bytearray, dice: random.Random) -> None:
    start, end = _span(body, dice)
    body[end:end] = body[start:end] * dice.choice([1, 2, 8, 64])


def _cut(body: bytearray, dice: random.Random) -> None:
    del body[dice.randint(0, len(body)) :]


def _swap_lines(body: bytearray, dice: random.Random) -> None:
    lines = bytes(body).split(b"\n")
    first, second = dice.randrange(len(lines)), dice.randrange(len(lines))
    lines[first], lines[second] = lines[second], lines[first]
    body[:] = b"\n".join(lines)


def _other_number(body: bytearray, dice: random.Random) -> None:
    found = list(NUMBER.finditer(body))
    if found:
        start, end = dice.choice(found).span()
        body[start:end] = dice.choice([*NUMBERS, b"%d" % dice.randint(-3, 3), b"%d" % dice.getrandbits(40)])


MUTATIONS: tuple[Mutation, ...] = (
    _flip,
    _put,
    _put,
    _overwrite,
    _take_out,
    _repeat,
    _cut,
    _swap_lines,
    _other_number,
    _other_number,
)


def _span(body: bytearray, dice: random.Random) -> tuple[int, int]:
    start = dice.randint(0, len(body))
    return start, min(len(body), start + dice.choice([1, 2, 5, 20, 100]))


def mutated(seed: bytes, dice: random.Random) -> bytes:
    """The body with one to six things wrong, at most 64 KiB of it."""
    body = bytearray(seed)
    for _ in range(dice.choice([1, 1, 1, 2, 2, 3, 6])):
        dice.choice(MUTATIONS)(body, dice)
        del body[LONGEST:]
    return bytes(body)


def mutated_zip(seed: bytes, dice: random.Random) -> bytes:
    """The zip with one of its members mutated and all checksums right, or now and then its own bytes."""
    if dice.random() < 0.2:
        return mutated(seed, dice)
    members = _members(seed)
    name = dice.choice(list(members))
    members[name] = mutated(members[name], dice)
    return packed(list(members.items()))


def packed(members: Sequence[tuple[str, bytes]]) -> bytes:
    """A zip of these members."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name, content in members:
            archive.writestr(name, content)
    return file.getvalue()


def _members(body: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(body)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}
