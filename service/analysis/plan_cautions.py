"""What to keep in mind before a trial begins: each caution computed, with its evidence.

Those about the elements are those of the analysis; the others are about plans alone.
"""

from collections.abc import Callable

from service.analysis.cautions.caution import Caution
from service.analysis.cautions.gauge_table_unknown import gauge_table_unknown
from service.analysis.cautions.geometry_differs import geometry_differs
from service.analysis.cautions.margin_below_repeatability import SDS
from service.analysis.cautions.several_things_differ import several_things_differ
from service.analysis.plan_facts import PlanFacts
from service.analysis.plan_power import Powers
from service.radio.channel_plan import channel_plan
from service.trial.plan_question import PlanQuestion
from service.trial.rf_channels import NUMBERED_NAME

NOT_STATED, AS_DISPLAYED, NOT_IN_REGION = "not stated", "as displayed", "not in the region"
MOST_HOURS_A_ROUND = 3.0
_JUST = 1 - 1e-9


def plan_cautions(facts: PlanFacts, question: PlanQuestion, powers: Powers) -> tuple[Caution, ...]:
    """All cautions of a plan, the gravest first."""
    about_plan: tuple[Callable[[PlanFacts, PlanQuestion, Powers], Caution | None], ...] = (
        _too_few_rounds,
        _fewer_than_planned,
        _worthwhile_out_of_reach,
        _margin_below,
        _long_rounds,
    )
    about_trial: tuple[Callable[[PlanFacts], Caution | None], ...] = (
        _plan_done,
        _rounds_with_gaps,
        _no_reference,
        _no_control,
        geometry_differs,
        several_things_differ,
        gauge_table_unknown,
        _displayed_numbers,
        _channels_not_named,
        _noise_not_known,
    )
    found = [find(facts, question, powers) for find in about_plan]
    found += [find(facts) for find in about_trial]
    return tuple(caution for caution in found if caution is not None)


def _too_few_rounds(facts: PlanFacts, _question: PlanQuestion, powers: Powers) -> Caution | None:
    """No verdict is possible at the end of the plan, whatever the readings."""
    if powers.first_verdict_round is not None:
        return None
    evidence = {"rounds": facts.total, "elements": facts.elements, "looks": facts.trial.looks}
    return Caution("too-few-rounds", "stop", evidence)


def _fewer_than_planned(facts: PlanFacts, _question: PlanQuestion, _powers: Powers) -> Caution | None:
    """The time does not hold the rounds that the trial's plan says."""
    if facts.total >= facts.trial.planned_rounds:
        return None
    evidence = {"rounds": facts.total, "planned_rounds": facts.trial.planned_rounds}
    return Caution("fewer-than-planned", "warning", evidence)


def _worthwhile_out_of_reach(facts: PlanFacts, question: PlanQuestion, powers: Powers) -> Caution | None:
    """What would be worthwhile is less than what the plan can detect."""
    wanted, detectable = question.worthwhile_difference, powers.detectable(question.chance)
    if facts.sd is None or wanted is None or detectable is None or wanted >= detectable:
        return None
    evidence = {"worthwhile_difference": wanted, "detectable_difference": detectable}
    return Caution("worthwhile-out-of-reach", "warning", evidence)


def _margin_below(facts: PlanFacts, _question: PlanQuestion, _powers: Powers) -> Caution | None:
    """As `margin-below-repeatability` of the analysis, from what is known beforehand."""
    sd, margin = facts.sd, facts.trial.margin
    if sd is None or margin >= SDS * sd * _JUST:
        return None
    evidence = {"margin": margin, "sd": sd, "smallest_useful_margin": SDS * sd}
    return Caution("margin-below-repeatability", "warning", evidence)


def _long_rounds(facts: PlanFacts, question: PlanQuestion, _powers: Powers) -> Caution | None:
    """A round so long that the signals themselves may change within it."""
    minutes = question.minutes_per_run or facts.trial.minutes_per_run or 0.0
    hours = facts.elements * (minutes + question.minutes_per_mounting) / 60
    if hours <= MOST_HOURS_A_ROUND:
        return None
    return Caution("long-rounds", "warning", {"hours": hours, "most_hours": MOST_HOURS_A_ROUND})


def _plan_done(facts: PlanFacts) -> Caution | None:
    """A trial under way that has all its planned rounds."""
    if facts.rounds:
        return None
    evidence = {"rounds_done": facts.so_far.rounds_done, "planned_rounds": facts.trial.planned_rounds}
    return Caution("plan-done", "note", evidence)


def _rounds_with_gaps(facts: PlanFacts) -> Caution | None:
    """Rounds so far that lack a run do not count as done, and are planned anew as a whole."""
    missing = [{"element": name, "round": number} for name, number in facts.so_far.missing]
    return Caution("rounds-with-gaps", "note", {"missing": missing}) if missing else None


def _no_reference(facts: PlanFacts) -> Caution | None:
    if facts.trial.reference is not None:
        return None
    return Caution("no-reference", "warning", {})


def _no_control(facts: PlanFacts) -> Caution | None:
    roles = {one.role for one in facts.trial.elements}
    lacking = [role for role in ("twin", "pad") if role not in roles]
    return Caution("no-control", "note", {"lacking": lacking}) if lacking else None


def _displayed_numbers(facts: PlanFacts) -> Caution | None:
    """Channels of which it must be asked on which RF channel they are: a displayed number is none."""
    carriers = facts.carriers
    unstated = {*carriers.guessed, *carriers.unknown}
    found = []
    for channel in facts.trial.channels:
        stated = None if channel.id in unstated else carriers.of[channel.id]
        why = _why_asked(channel.id, stated, facts.trial.region)
        if why is not None:
            found.append({"channel": channel.id, "rf_channel": stated, "why": why})
    if not found:
        return None
    return Caution("displayed-numbers", "warning", {"channels": found, "region": facts.trial.region})


def _why_asked(name: str, stated: str | None, region: str | None) -> str | None:
    """Why the RF channel of a channel is asked for; None where nothing speaks against what was stated."""
    if stated is None:
        return NOT_STATED
    if region is not None and channel_plan(region).channel(stated) is None:
        return NOT_IN_REGION
    displayed = NUMBERED_NAME.fullmatch(name)
    return AS_DISPLAYED if displayed is not None and displayed[1] == stated else None


def _channels_not_named(facts: PlanFacts) -> Caution | None:
    return None if facts.trial.channels else Caution("channels-not-named", "note", {})


def _noise_not_known(facts: PlanFacts) -> Caution | None:
    return None if facts.sd is not None else Caution("noise-not-known", "note", {})
