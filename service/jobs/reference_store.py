"""Bell-shaped references on disk: computed once for a shape of trial, then read by every process.

A reference depends on its name, on the code that computes it and on the versions of numpy and scipy, and all
of these are in the name of its file: a folder may be shared, outlive an upgrade, and be deleted at any time.
A folder that cannot be read or written costs time, never an answer.
"""

import hashlib
import os
import re
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import numpy as np
import scipy
from numpy.typing import NDArray

from service import statistics
from service.statistics.bell_reference import MemoryStore

Arrays = Mapping[str, NDArray[np.float64]]
_NAME = re.compile(r"[A-Za-z0-9.+-]{1,120}", re.ASCII)
_UNREADABLE = (OSError, ValueError, EOFError, KeyError, zipfile.BadZipFile)


class FolderStore:
    """Keeps references in this process and, as one npz file each, in a folder; the oldest files make way.

    folder: None keeps them in this process alone. most_files: how many files stay in the folder.
    """

    def __init__(self, folder: Path | None, *, most_files: int = 64):
        self._memory = MemoryStore()
        self._folder = folder
        self._made_by = made_by()
        self._most_files = most_files

    def fetch(self, name: str, compute: Callable[[], Arrays]) -> Arrays:
        """What is kept under the name, else what compute makes, kept from then on."""
        return self._memory.fetch(name, lambda: self._from_folder(name, compute))

    def _from_folder(self, name: str, compute: Callable[[], Arrays]) -> Arrays:
        if self._folder is None or not _NAME.fullmatch(name):
            return compute()
        path = self._folder / f"{name}-{self._made_by}.npz"
        kept = _read(path)
        if kept is None:
            kept = compute()
            self._write(path, kept)
        return kept

    def _write(self, path: Path, arrays: Arrays) -> None:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            _write_whole(path, arrays)
            _keep_newest(path.parent, self._most_files)
        except OSError:
            return  # the reference is in memory; another process computes its own


def made_by() -> str:
    """A digest of the code that computes references and of the libraries it uses."""
    digest = hashlib.sha256(f"numpy {np.__version__}, scipy {scipy.__version__}".encode())
    for source in sorted(Path(str(statistics.__file__)).parent.glob("*.py")):
        digest.update(source.read_bytes())
    return digest.hexdigest()[:16]


@cache
def reference_store(folder: Path | None) -> FolderStore:
    """This process's store of a folder."""
    return FolderStore(folder)


def _read(path: Path) -> Arrays | None:
    try:
        with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
            return {name: np.asarray(kept[name], dtype=np.float64) for name in kept.files}
    except _UNREADABLE:
        return None


def _write_whole(path: Path, arrays: Arrays) -> None:
    """Write beside the place and rename, so that no reader ever meets half a file."""
    handle, beside = tempfile.mkstemp(prefix=".", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            np.savez(file, allow_pickle=False, **dict(arrays))
        os.replace(beside, path)
    finally:
        Path(beside).unlink(missing_ok=True)


def _keep_newest(folder: Path, most: int) -> None:
    files = sorted(folder.glob("*.npz"), key=lambda file: file.stat().st_mtime_ns, reverse=True)
    for file in files[most:]:
        file.unlink(missing_ok=True)
