"""Properties that an analysis keeps whatever the readings: hypothesis looks for a counter-example."""
