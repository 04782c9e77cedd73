"""Which runs to repeat where too little is left."""

from service.trial.completeness import fewer_than_half_left, runs_to_repeat
from tests.trial.made_readings import table_of


def scanned(gaps):
    """Two elements, two rounds, channels v to z, less the gaps (element, round, channel)."""
    cells = [(e, r, c) for e in "ab" for r in (1, 2) for c in "vwxyz"]
    return [
        {"element": e, "round": r, "channel": c, "value": 3 + r} for e, r, c in cells if (e, r, c) not in gaps
    ]


def test_the_costliest_runs_come_first_when_fewer_than_half_are_left():
    table = table_of(scanned({("b", 2, "v"), ("b", 2, "w"), ("a", 1, "x")}))
    assert table.rf_channels == ("y", "z")
    assert fewer_than_half_left(table)
    assert runs_to_repeat(table) == (("b", 2), ("a", 1))


def test_with_half_left_nothing_is_named():
    table = table_of(scanned({("b", 2, "v"), ("a", 1, "x")}))
    assert not fewer_than_half_left(table)
    assert runs_to_repeat(table) == ()


def test_channels_at_one_end_are_not_brought_in_by_repeating():
    made = [
        row | {"value": 0 if row["channel"] in "vwx" else row["value"]} for row in scanned({("a", 2, "y")})
    ]
    assert runs_to_repeat(table_of(made)) == (("a", 2),)
