"""The readings of an archive before they are used: what came from elsewhere may be anything."""

import io
import zipfile
import zlib
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from service.jobs.archive_zip import check_size, refused
from service.settings import Limits
from service.storage.batch_rows import WITHDRAWAL, KeptColumns
from service.storage.packing import DamagedColumns, unpacked

TEXTS = ("element", "channel", "rf_channel", "run", "mounting")
WANTED = frozenset({"element", "channel"})
NUMBERS = ("round", "at", "row")
_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    ValueError,
    KeyError,
    TypeError,
    IndexError,
    EOFError,
    NotImplementedError,
)


def check_columns(kept: KeptColumns, limits: Limits) -> None:
    """Raise BadInput where the columns are none that this program packs, TooLarge past a limit."""
    if kept.kind == WITHDRAWAL:
        return
    try:
        _check_sizes(kept.columns, limits.archive_bytes)
        arrays = unpacked(kept.columns, kept.columns_sha256)
        sound = _sound(arrays, kept.names, limits)
    except (DamagedColumns, *_BROKEN) as error:
        raise _unsound(kept) from error
    if not sound:
        raise _unsound(kept)


def _check_sizes(columns: bytes, most_bytes: int) -> None:
    """Raise TooLarge where the columns, a compressed npz, unpack beyond the limit, or the npz does."""
    npz = zlib.decompressobj().decompress(columns, most_bytes + 1)
    check_size(len(npz), most_bytes)
    with zipfile.ZipFile(io.BytesIO(npz)) as members:
        check_size(sum(member.file_size for member in members.infolist()), most_bytes)


def _sound(arrays: Mapping[str, NDArray[Any]], names: Mapping[str, Sequence[str]], limits: Limits) -> bool:
    if set(arrays) != {*TEXTS, *NUMBERS, "value"} or set(names) != set(TEXTS):
        return False
    lengths = {array.shape for array in arrays.values()}
    if len(lengths) != 1 or len(arrays["value"].shape) != 1 or len(arrays["value"]) > limits.readings:
        return False
    whole = all(arrays[name].dtype == np.int64 for name in (*TEXTS, *NUMBERS))
    return (
        whole and _sound_values(arrays["value"]) and all(_sound_codes(arrays, names, name) for name in TEXTS)
    )


def _sound_values(values: NDArray[Any]) -> bool:
    return values.dtype == np.float64 and not np.isinf(values).any()


def _sound_codes(arrays: Mapping[str, NDArray[Any]], names: Mapping[str, Sequence[str]], name: str) -> bool:
    texts = names[name]
    least = 0 if name in WANTED else -1
    codes = arrays[name]
    return (
        isinstance(texts, list)
        and all(isinstance(text, str) for text in texts)
        and len(set(texts)) == len(texts)
        and bool(((codes >= least) & (codes < len(texts))).all())
    )


def _unsound(kept: KeptColumns) -> Exception:
    return refused(f"The readings of batch {kept.number} are not what this program archives.")
