"""The invented demo trial: what it was drawn from, and that the files kept are the files made."""
