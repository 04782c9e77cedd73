"""Properties of the statistics, their degenerate input, and the same numbers made another way."""
