"""From intervals to words: the outcome of one interval and of a trial."""

CLEAR, WITHIN, MORE = "clear winner", "within noise", "needs more runs"


def outcome_of(low, high, margin, tol):
    """An end within tol of 0 or of the margin lies on it: on 0 excludes nothing, on the margin is inside."""
    if low is None or high is None:
        return MORE
    if low >= -margin - tol and high <= margin + tol:
        return WITHIN
    return CLEAR if low > tol or high < -tol else MORE


def sign_of(low, high, tol):
    """+1, -1 or 0: the side of 0 on which the whole interval lies."""
    if low is None or high is None:
        return 0
    return 1 if low > tol else -1 if high < -tol else 0


def outcome_of_trial(against):
    """The leader's outcomes against each other competing element, taken together."""
    if not against or any(outcome == MORE for outcome in against):
        return MORE
    return CLEAR if all(outcome == CLEAR for outcome in against) else WITHIN
