"""Simulated trials whose truth is known, to measure how often the decision rule is wrong."""
