"""What a trial takes for the run-to-run noise when it looks ahead."""

from service.statistics.known_noise import BELOW_ROUNDS
from service.statistics.least_squares import fit
from service.statistics.rounds_needed import Noise
from service.statistics.trial_looks import TrialLooks


def trial_noise(looks: TrialLooks) -> Noise | None:
    """Residual sum of squares and freedom of the elements joined; below 3 rounds with the known noise.

    None where nothing tells it.
    """
    members = looks.joined(looks.rounds)
    if members.sum() < 2:
        return None
    fitted = fit(looks.scores[members])
    squares, freedom = fitted.residual_ss, float(fitted.degrees_of_freedom)
    known = looks.known
    if known and looks.rounds < BELOW_ROUNDS:
        squares += known.sd**2 * known.degrees_of_freedom
        freedom += known.degrees_of_freedom
    return Noise(squares, freedom) if freedom > 0 else None
