"""What checks and histories say alike: what stops them, what struck runs change, where it holds."""

from collections.abc import Iterable, Mapping
from typing import Final

from reports.language import marked, say
from reports.wording.check_cautions import phrase
from reports.wording.speech import listed

HERE_ONLY: Final = marked("It holds for this site, this antenna and these days.")


def stopped(codes: Iterable[str]) -> str:
    """Which cautions stop it; KeyError for a code without a heading."""
    causes = listed([phrase(code) for code in codes])
    return say("It is stopped by a caution ({causes}), which comes first.", causes=causes)


def with_struck(outcome: str, put_back: str | None, words: Mapping[str, str]) -> str:
    """What it would come to with the struck runs put back, None where none were; `words` are of outcomes."""
    if put_back is None:
        return ""
    if put_back == outcome:
        return say("With the runs that were taken out put back it says the same.")
    return say(
        "With the runs that were taken out put back it would say: {outcome}.", outcome=say(words[put_back])
    )
