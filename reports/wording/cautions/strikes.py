"""Messages about runs that were taken out."""

from reports import document as doc
from reports.language import say
from reports.wording.cautions import measured
from reports.wording.speech import Speech, listed
from reports.wording.vocabulary import OUTCOMES


def runs_struck(speech: Speech, evidence: doc.Entry) -> str:
    """Runs taken out openly."""
    return say(
        "Taken out by whoever ran the trial: {runs}. A run may be taken out for what happened at the mast, "
        "never for what it reads: where the run furthest off was taken out of simulated trials, the rule "
        "erred in {of_two} of 100 trials of two and in {of_four} of four, not {promised}. The result with "
        "these runs left in is given beside this one.",
        runs=listed([_struck(speech, run) for run in evidence["runs"]]),
        of_two=measured.FURTHEST_STRUCK_OF_TWO,
        of_four=measured.FURTHEST_STRUCK_OF_FOUR,
        promised=measured.PROMISED,
    )


def hangs_on_strike(speech: Speech, evidence: doc.Entry) -> str:
    """The outcome with and without the strikes differs."""
    return say(
        "With the runs taken out the outcome is {outcome}; with them left in it is {outcome_with_them}. A "
        "verdict that hangs on what was taken out is weak: where one run was taken out because that changed "
        "the answer, the rule erred in {of_two} of 100 simulated trials of two and in {of_four} of four, not "
        "{promised}. Repeat those runs.",
        outcome=_outcome(speech, evidence["with"]),
        outcome_with_them=_outcome(speech, evidence["without"]),
        of_two=measured.STRUCK_TO_SUIT_OF_TWO,
        of_four=measured.STRUCK_TO_SUIT_OF_FOUR,
        promised=measured.PROMISED,
    )


def _struck(speech: Speech, run: doc.Entry) -> str:
    return say(
        "{element} in round {round} ({reason})",
        element=speech.name(run["element"]),
        round=run["round"],
        reason=doc.clean(run["reason"]) or say("no reason given"),
    )


def _outcome(speech: Speech, result: doc.Entry) -> str:
    outcome, winner = say(OUTCOMES[result["outcome"]]), result["winner"]
    if not winner:
        return say("“{name}”", name=outcome)
    return say("“{outcome}” ({winner})", outcome=outcome, winner=speech.name(winner))
