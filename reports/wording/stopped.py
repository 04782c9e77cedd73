"""That a caution stops what is asked of trials."""

from collections.abc import Iterable

from reports.language import say
from reports.wording.check_cautions import phrase
from reports.wording.speech import listed


def stopped(codes: Iterable[str]) -> str:
    """Which cautions stop it; KeyError for a code without a heading."""
    causes = listed([phrase(code) for code in codes])
    return say("It is stopped by a caution ({causes}), which comes first.", causes=causes)
