"""References on disk: computed once, shared, never half, and dispensable."""

import os
import shutil
from pathlib import Path

import numpy as np
import pytest

from service import statistics
from service.jobs.reference_store import FolderStore, reference_store

NAME = "bell-8-6-6-0.05000000000000004-every-100000"


class Computing:
    """Makes arrays and counts how often."""

    def __init__(self):
        self.times = 0

    def __call__(self):
        self.times += 1
        return {"round": np.array([3.0, 4.0]), "maxima": np.arange(6.0).reshape(2, 3)}


@pytest.fixture
def compute():
    return Computing()


def files(folder):
    return sorted(folder.rglob("*.npz"))


def assert_is_made(kept):
    made = Computing()()
    assert kept.keys() == made.keys()
    for name, values in made.items():
        np.testing.assert_array_equal(kept[name], values)


def test_memory_answers_first(tmp_path, compute):
    store = FolderStore(tmp_path)
    store.fetch(NAME, compute)
    for file in files(tmp_path):
        file.unlink()
    assert_is_made(store.fetch(NAME, compute))
    assert compute.times == 1


def test_another_process_reads_what_one_has_computed(tmp_path, compute):
    FolderStore(tmp_path).fetch(NAME, compute)
    assert_is_made(FolderStore(tmp_path).fetch(NAME, compute))
    assert compute.times == 1
    (file,) = files(tmp_path)
    assert file.name.startswith(f"{NAME}-")


def test_other_libraries_or_other_code_have_files_of_their_own(tmp_path, compute, monkeypatch):
    folder = tmp_path / "references"
    FolderStore(folder).fetch(NAME, compute)
    with monkeypatch.context() as patch:
        patch.setattr(np, "__version__", "99.0")
        FolderStore(folder).fetch(NAME, compute)
    changed = tmp_path / "statistics"
    shutil.copytree(Path(statistics.__file__).parent, changed)
    with (changed / "looks.py").open("a") as source:
        source.write("# another line\n")
    monkeypatch.setattr(statistics, "__file__", str(changed / "__init__.py"))
    FolderStore(folder).fetch(NAME, compute)
    assert compute.times == 3
    assert len(files(folder)) == 3


@pytest.mark.parametrize("spoil", [b"", b"PK\x03\x04 half a file", b"\x80\x04pickled"])
def test_a_spoilt_file_is_computed_anew_and_mended(tmp_path, compute, spoil):
    FolderStore(tmp_path).fetch(NAME, compute)
    (file,) = files(tmp_path)
    file.write_bytes(spoil)
    assert_is_made(FolderStore(tmp_path).fetch(NAME, compute))
    assert_is_made(FolderStore(tmp_path).fetch(NAME, compute))
    assert compute.times == 2


def test_a_cut_file_is_computed_anew(tmp_path, compute):
    FolderStore(tmp_path).fetch(NAME, compute)
    (file,) = files(tmp_path)
    file.write_bytes(file.read_bytes()[:-30])
    assert_is_made(FolderStore(tmp_path).fetch(NAME, compute))
    assert compute.times == 2


def test_it_goes_on_without_a_folder_that_can_be_written(tmp_path, compute):
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    store = FolderStore(in_the_way)
    assert_is_made(store.fetch(NAME, compute))
    assert_is_made(store.fetch(NAME, compute))
    assert compute.times == 1


def test_a_full_disk_leaves_no_half_file(tmp_path, compute, monkeypatch):
    def full(file, **_):
        file.write(b"half")
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(np, "savez", full)
    assert_is_made(FolderStore(tmp_path).fetch(NAME, compute))
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_without_a_folder_nothing_is_written(compute):
    assert_is_made(FolderStore(None).fetch(NAME, compute))
    assert reference_store(None) is reference_store(None)


@pytest.mark.parametrize("name", ["../outside", "a/b", "", "x" * 200, "a\0b"])
def test_a_name_that_is_no_plain_file_name_stays_in_memory(tmp_path, compute, name):
    folder = tmp_path / "store"
    assert_is_made(FolderStore(folder).fetch(name, compute))
    assert list(tmp_path.rglob("*.npz")) == []


def test_the_oldest_files_make_way(tmp_path, compute):
    store = FolderStore(tmp_path, most_files=3)
    for number in range(5):
        store.fetch(f"bell-{number}", compute)
        (newest,) = (file for file in files(tmp_path) if file.stem.startswith(f"bell-{number}-"))
        os.utime(newest, (number, number))
    assert [file.stem[:6] for file in files(tmp_path)] == ["bell-2", "bell-3", "bell-4"]
