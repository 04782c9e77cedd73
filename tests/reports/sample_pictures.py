"""One invented picture of each kind."""

from reports.charts.pictures import (
    Bar,
    Card,
    GainRow,
    Gains,
    Grid,
    Line,
    Meeting,
    Metal,
    Metals,
    Narrowing,
    Pairs,
    Ranking,
    Rate,
    Rates,
    Rounds,
    TileRow,
    Tiles,
)

BARS = (
    Bar("brass rod", "", 5.4, None, None, "leads", "lead"),
    Bar("zinc wire", "", 4.9, 4.6, 5.2, "behind the leader", "plain"),
    Bar("spare copy", "", 5.5, None, None, "spare copy of brass rod", "control"),
)
RANKING = Ranking(BARS, (4.9, 5.9), "as good as the best", "average reading (bars)")
PAIRS = Pairs(
    (Bar("brass rod", "zinc wire", 0.5, 0.2, 0.8, "clear winner", "plain"),),
    (-0.5, 0.5),
    "too small to act on",
    "difference (bars)",
)
ROUNDS = Rounds((1, 2, 3), (Line("brass rod", (5.0, None, 5.4)), Line("zinc wire", (5.0, 4.9, 5.4))), "bars")
TILES = Tiles(
    ("brass rod", "zinc wire"),
    (
        TileRow("Harbour One", "27", (7.5, None), ("7.5", "none")),
        TileRow("28", "28", (2.0, 3.0), ("2.0", "3.0")),
    ),
    (2.0, 7.5),
    "mean reading (bars)",
)
METALS = Metals(
    (
        Metal("brass rod", 0.03, 1.5, 1.2, 1.8, "metal: at most 0.03 dB"),
        Metal("zinc wire", 0.4, None, None, None, "metal: at most 0.4 dB"),
    ),
    "what the metals can make at most",
    "bronze wire above the other (dB)",
)
RATES = Rates(
    (Rate("normal", (2.0, 49.0), (0.0, 48.0)), Rate("skewed", (3.0, 90.0), (1.0, 80.0))),
    50.0,
    "promised: at most 50",
    "some pair called",
    "a false winner",
    "of 1000",
)
NONE = Meeting("none", "", "")
GRID = Grid(
    ("brass rod", "zinc wire"),
    ((NONE, Meeting("better", "better", "+0.50")), (Meeting("worse", "worse", "\N{MINUS SIGN}0.50"), NONE)),
    ("better: settled",),
)
NARROWING = Narrowing(
    (
        Bar("round 3", "", 0.5, -0.2, 1.2, "needs more runs", "plain"),
        Bar("round 4", "", 0.6, 0.1, 1.1, "clear winner, decided", "lead"),
    ),
    (-0.5, 0.5),
    "too small to act on",
    "brass rod \N{MINUS SIGN} zinc wire (bars)",
)
GAINS = Gains((1, 2), (GainRow("zinc wire", ((1, 0), (0, 2))),), "gained on brass rod", "lost to brass rod")
CARD = Card(
    shape="square",
    title="a trial",
    outcome="within noise",
    statement="Nothing to choose between brass rod and zinc wire.",
    bars=BARS[:2],
    band=(4.9, 5.9),
    band_says="too small to act on",
    axis="average reading (bars)",
    left_out="and 58 more",
    no_bars="no interval to draw",
    facts=("6 rounds",),
    foot="report AA-1",
)
PICTURES = {
    "grid": GRID,
    "narrowing": NARROWING,
    "gains": GAINS,
    "card": CARD,
    "ranking": RANKING,
    "pairs": PAIRS,
    "rounds": ROUNDS,
    "tiles": TILES,
    "metals": METALS,
    "rates": RATES,
}
