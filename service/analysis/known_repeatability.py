"""Whether a repeatability known beforehand belongs to the scores of this trial."""

from service.errors import BadInput, Fault
from service.trial.scores import ScoreTable
from service.trial.trial import Trial


def check_known_repeatability(trial: Trial, table: ScoreTable) -> None:
    """Raise BadInput where the known sd was taken over other RF channels than those that entered here.

    The mean over more RF channels is quieter, so an sd of other ones says nothing of these scores. Where no
    RF channel entered there is nothing to judge, and nothing to refuse.
    """
    known = trial.known_repeatability
    if known is None or not table.rf_channels or set(known.rf_channels) == set(table.rf_channels):
        return
    used = ", ".join(table.rf_channels)
    detail = (
        f"The known repeatability must be that of the score over the RF channels used in this trial: {used}. "
        "Give the sd of the mean over these, or take known_repeatability out."
    )
    place = "#/trial/known_repeatability/rf_channels"
    raise BadInput([Fault(detail, pointer=place, given=", ".join(known.rf_channels))])
