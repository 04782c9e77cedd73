"""The analysis document of each example, kept whole and compared to the last digit."""
