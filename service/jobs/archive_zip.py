"""A zip with members of fixed names and the SHA-256 of each: the same members give the same bytes.

A zip that somebody brings is not trusted. Nothing of it is written to disk; names other than those that an
archive of this program has are refused, and so are two of one name, encryption, sizes beyond the limit (told
by its directory, before anything is unpacked) and members that are not what the list of digests says.
"""

import hashlib
import io
import re
import zipfile
from collections.abc import Mapping

from service.errors import BadInput, Fault, TooLarge
from service.intake.broken_zip import BROKEN_ZIP

DIGESTS = "SHA256SUMS"
NAMES = re.compile(
    r"(archive|trial|history|batches|analysis)\.json|readings\.csv|batches/\d{4,6}\.(body|columns)"
)
REQUIRED = ("archive.json", "trial.json", "history.json", "batches.json", "analysis.json", DIGESTS)
MOST_MEMBERS = 20_000
ENCRYPTED = 0x1
EPOCH = (1980, 1, 1, 0, 0, 0)
READABLE = 0o644 << 16
UNIX = 3
_LINE = re.compile(r"([0-9a-f]{64})  ([\w./]+)", re.ASCII)


def zipped(members: Mapping[str, bytes]) -> bytes:
    """The members as a zip, in their order, with the list of their digests behind them."""
    file = io.BytesIO()
    sums = "".join(f"{digest(content)}  {name}\n" for name, content in members.items())
    with zipfile.ZipFile(file, "w") as archive:
        for name, content in {**members, DIGESTS: sums.encode()}.items():
            member = zipfile.ZipInfo(name, EPOCH)
            member.external_attr, member.create_system = READABLE, UNIX
            packed = zipfile.ZIP_STORED if name.endswith(".columns") else zipfile.ZIP_DEFLATED
            archive.writestr(member, content, compress_type=packed, compresslevel=6)
    return file.getvalue()


def unzipped(body: bytes, *, most_bytes: int) -> dict[str, bytes]:
    """The members of a zip that this program made, each found to be what it was.

    Raises TooLarge past the limit, BadInput for anything else that is wrong.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(body)) as archive:
            entries = archive.infolist()
            _check(entries, most_bytes)
            members = {entry.filename: _content(archive, entry) for entry in entries}
    except BROKEN_ZIP as error:
        raise refused("This is no zip, or it is damaged. Fetch the archive again.") from error
    missing = [name for name in REQUIRED if name not in members]
    if missing:
        raise refused(f"The archive lacks {', '.join(missing)}. Fetch the archive again.")
    _check_digests(members)
    return members


def _content(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    """The bytes of a member, unpacked no further than the directory says; read whole, a lie would swell."""
    with archive.open(entry) as stream:
        return stream.read(entry.file_size + 1)


def digest(content: bytes) -> str:
    """The SHA-256 of the bytes, in hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def refused(detail: str, pointer: str = "#") -> BadInput:
    """What is wrong with an archive."""
    return BadInput([Fault(detail, pointer=pointer)])


def check_size(unpacked: int, most_bytes: int) -> None:
    """Raise TooLarge where the sizes summed pass the limit."""
    if unpacked > most_bytes:
        raise TooLarge(
            f"The archive unpacks to {unpacked} bytes, and at most {most_bytes} are taken. "
            "Export the readings (GET /v1/trials/ID/readings) instead."
        )


def _check(entries: list[zipfile.ZipInfo], most_bytes: int) -> None:
    names = [entry.filename for entry in entries]
    if len(names) > MOST_MEMBERS:
        raise refused(f"The archive has {len(names)} members; at most {MOST_MEMBERS} are taken.")
    if len(set(names)) < len(names):
        raise refused("The archive has two members of one name.")
    for entry in entries:
        if entry.filename != DIGESTS and not NAMES.fullmatch(entry.filename):
            raise refused(f"The member {entry.filename[:80]!r} is none that an archive of a trial has.")
        if entry.flag_bits & ENCRYPTED:
            raise refused(f"The member {entry.filename} is encrypted.")
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise refused(f"The member {entry.filename} is packed in a way that is not read here.")
    check_size(sum(entry.file_size for entry in entries), most_bytes)


def _check_digests(members: dict[str, bytes]) -> None:
    """Take the list out of the members. Raises BadInput where it does not list exactly what is there."""
    lines = members.pop(DIGESTS).decode("ascii", errors="replace").splitlines()
    listed = {match[2]: match[1] for line in lines if (match := _LINE.fullmatch(line))}
    if len(listed) != len(lines) or listed.keys() != members.keys():
        raise refused(f"{DIGESTS} does not list the members of the archive.")
    for name, content in members.items():
        if digest(content) != listed[name]:
            raise refused(f"The member {name} is not what was archived: its SHA-256 differs.")
