"""Columns of numbers as one compressed npz: the same columns give the same bytes, and come back the same.

Whole numbers are kept in the smallest type that holds them, the column `row` as its steps, and decimal
numbers as codes of their different values where there are few, by bit pattern, so that nothing is lost.
"""

import hashlib
import io
import zipfile
import zlib
from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.errors import ServiceError

Arrays = Mapping[str, NDArray[Any]]
FEW_VALUES = 65_536
FAST = 1
STEPS = "row"
CODES, VALUES = ":codes", ":values"
_UNREADABLE = (ValueError, EOFError, KeyError, zipfile.BadZipFile, zlib.error)


class DamagedColumns(ServiceError):
    """The bytes in the database are not those that were written."""


def packed(arrays: Arrays) -> bytes:
    """The columns (int64 or float64, one dimension) as bytes."""
    small: dict[str, NDArray[Any]] = {}
    for name, values in arrays.items():
        small |= _small(name, values)
    file = io.BytesIO()
    np.savez(file, allow_pickle=False, **small)
    return zlib.compress(file.getvalue(), FAST)


def unpacked(content: bytes, sha256: str) -> dict[str, NDArray[Any]]:
    """The columns of the bytes. Raises DamagedColumns where the digest is another."""
    if digest_of(content) != sha256:
        raise DamagedColumns("The readings of a batch are damaged in the database. Restore it from a backup.")
    try:
        with np.load(io.BytesIO(zlib.decompress(content)), allow_pickle=False) as kept:
            members = {name: kept[name] for name in kept.files}
    except _UNREADABLE as error:
        raise DamagedColumns("The readings of a batch cannot be unpacked.") from error
    names = dict.fromkeys(name.removesuffix(CODES).removesuffix(VALUES) for name in members)
    return {name: _whole(name, members) for name in names}


def digest_of(content: bytes) -> str:
    """The SHA-256 of the bytes, in hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def _small(name: str, values: NDArray[Any]) -> dict[str, NDArray[Any]]:
    if values.dtype == np.float64:
        bits = values.view(np.int64)
        different = np.unique(bits)
        if len(different) > FEW_VALUES:
            return {name: values}
        codes = np.searchsorted(
            different, bits
        )  # `return_inverse` sorts the places of all, at twice the cost
        return {name + CODES: _smallest(codes), name + VALUES: different.view(np.float64)}
    return {name: _smallest(np.diff(values, prepend=0) if name == STEPS else values)}


def _smallest(values: NDArray[Any]) -> NDArray[Any]:
    """The whole numbers in the smallest signed type."""
    least, most = (int(values.min()), int(values.max())) if len(values) else (0, 0)
    for kind in (np.int8, np.int16, np.int32):
        if np.iinfo(kind).min <= least and most <= np.iinfo(kind).max:
            return values.astype(kind)
    return values.astype(np.int64)


def _whole(name: str, members: Mapping[str, NDArray[Any]]) -> NDArray[Any]:
    if name + CODES in members:
        return np.asarray(members[name + VALUES][members[name + CODES]])
    values = members[name]
    if values.dtype == np.float64:
        return values
    values = values.astype(np.int64)
    return np.cumsum(values) if name == STEPS else values
