"""Arrays in, frozen results out: the tests and intervals that decide, and those that stand beside them.

This room imports numpy, scipy and the standard library, nothing else. It knows no element, no channel and
no decibel: elements are rows (axis 0), rounds are columns (axis 1), NaN is a run that was not made.
Randomness comes in as a seed; no result depends on batch size or on the number of workers.
"""
