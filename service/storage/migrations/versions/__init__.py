"""The steps. Each names the one before it; none is changed once a version with it was given out."""
