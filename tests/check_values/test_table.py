"""The table of check values itself, and the rule by which its tolerances are read."""

import pytest

from tests.check_values.conftest import TABLE, approximate, entries, half_a_unit, resolved


def test_every_entry_names_its_source_and_a_tolerance_for_each_kind_of_result():
    for name, entry in entries().items():
        assert entry["source"], name
        assert entry["verified_by"], name
        assert entry["tolerance"], name
        assert entry["status"] in {"opened", "memory", "secondary", "computed"}, name


def test_every_borrowed_set_of_data_is_there():
    for name, entry in entries().items():
        data = resolved(entry["data"])
        assert data, name
        assert "same_as" not in data, name


def test_several_borrowed_sets_stand_under_their_own_names():
    data = resolved({"same_as": ["sign-flip-shoes", "signed-rank-depression"], "columns": 2})
    assert set(data) == {"sign-flip-shoes", "signed-rank-depression", "columns"}
    assert data["signed-rank-depression"]["first"][0] == 1.83


@pytest.mark.parametrize(("value", "half"), [(0.2632, 5e-5), (4e-06, 5e-7), (11.143, 5e-4), (40, 0.5)])
def test_half_a_unit_of_the_last_digit(value, half):
    assert half_a_unit(value) == pytest.approx(half)


@pytest.mark.parametrize(
    ("tolerance", "near", "far"),
    [
        ("as printed", 1.2349, 1.2351),
        ("half a unit of the last digit", 1.2251, 1.2249),
        ("relative 1e-3", 1.231, 1.232),
        (0.01, 1.239, 1.241),
    ],
)
def test_a_tolerance_lets_through_what_is_near_and_nothing_else(tolerance, near, far):
    assert approximate([1.23, None], tolerance) == [near, None]
    assert approximate([1.23, None], tolerance) != [far, None]


def test_every_entry_is_used_by_a_test_of_this_folder():
    tests = "".join(path.read_text(encoding="utf-8") for path in TABLE.parent.glob("test_*.py"))
    assert [name for name in entries() if f'"{name}"' not in tests] == []
