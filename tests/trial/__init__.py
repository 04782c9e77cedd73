"""The trial document, its readings, rounds and scores."""
