"""The message about a run that does not fit the others."""

from typing import Final

from reports import document as doc
from reports import numerals
from reports.language import marked, say
from reports.wording.cautions import measured
from reports.wording.speech import Speech, sentences

_ABOVE: Final = marked(
    "The run of {elements} in round {round} lies {amount} above what the other runs lead to expect; runs "
    "otherwise vary by a standard deviation of {sd}."
)
_BELOW: Final = marked(
    "The run of {elements} in round {round} lies {amount} below what the other runs lead to expect; runs "
    "otherwise vary by a standard deviation of {sd}."
)
_EITHER: Final = marked(
    "The run of {elements} in round {round} lies {amount} from where the other runs put it (two alone do not "
    "show which of them it was); runs otherwise vary by a standard deviation of {sd}."
)


def odd_run(speech: Speech, evidence: doc.Entry) -> str:
    """One run does not fit the others."""
    runs, two = evidence["runs"], len(evidence["runs"]) > 1
    return sentences(
        say(
            _EITHER if two else _ABOVE if evidence["deviation"] > 0 else _BELOW,
            elements=speech.names([run["element"] for run in runs], joined="or"),
            round=runs[0]["round"],
            amount=speech.amount(abs(evidence["deviation"]), evidence["sd"]),
            sd=speech.measured(numerals.two_digits(evidence["sd"])),
        ),
        say(
            "Did a gust turn the mast, or was a joint loose? If you know that something happened, take the "
            "run out with that reason, or repeat it; never take it out for what it reads."
        ),
        _of_two_alone() if two else "",
    )


def _of_two_alone() -> str:
    return say(
        "Of two alone nothing shows that one is noisier, with a long tail to one side; where that was so the "
        "rule erred in {erred} of 100 simulated trials, not {promised}.",
        erred=measured.LOPSIDED_OF_TWO,
        promised=measured.PROMISED,
    )
