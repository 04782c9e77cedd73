"""Hypothesis looks at the same examples in every run, so that a test passes or fails for the code alone."""

from hypothesis import settings

settings.register_profile("steady", derandomize=True)
settings.load_profile("steady")
