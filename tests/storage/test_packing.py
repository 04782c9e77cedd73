"""Columns as bytes: small, the same each time, and the same when they come back."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.storage.packing import DamagedColumns, digest_of, packed, unpacked

WHOLE = st.integers(-(2**63), 2**63 - 1)


def there_and_back(arrays):
    content = packed(arrays)
    return unpacked(content, digest_of(content))


@settings(deadline=None)
@given(st.lists(WHOLE), st.lists(st.floats(allow_nan=True, width=64)), st.lists(st.integers(0, 2**31)))
def test_what_was_packed_comes_back(codes, values, rows):
    arrays = {
        "code": np.array(codes, dtype=np.int64),
        "value": np.array(values, dtype=np.float64),
        "row": np.array(rows, dtype=np.int64),
    }
    back = there_and_back(arrays)
    assert {name: array.dtype for name, array in back.items()} == {
        name: array.dtype for name, array in arrays.items()
    }
    assert all(back[name].tobytes() == arrays[name].tobytes() for name in arrays)


def test_many_different_values_come_back_too():
    values = np.random.default_rng(1).normal(size=70_000)
    assert there_and_back({"value": values})["value"].tobytes() == values.tobytes()


def test_the_same_columns_give_the_same_few_bytes():
    rows = np.arange(960_000)
    columns = {"row": rows + 2, "channel": rows % 1000, "value": (rows % 97) / 10}
    content = packed(columns)
    assert content == packed(columns)
    assert len(content) < 100_000  # 23 MB of numbers


def test_damaged_bytes_are_told():
    content = packed({"row": np.arange(5)})
    damaged = content[:-1] + bytes([content[-1] ^ 1])
    with pytest.raises(DamagedColumns, match="backup"):
        unpacked(damaged, digest_of(content))
    with pytest.raises(DamagedColumns):
        unpacked(b"no columns", digest_of(b"no columns"))
