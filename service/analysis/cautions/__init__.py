"""What to keep in mind about a trial: one file a caution, each computed, each with its evidence.

A caution is a function of the facts that answers a `Caution` or None. Adding one: a file here, its place
in `FINDERS`, its evidence in openapi/analysis-document.schema.json, its sentence in `reports.wording`.
"""

from collections.abc import Callable

from service.analysis.cautions.at_ceiling import at_ceiling
from service.analysis.cautions.at_floor import at_floor
from service.analysis.cautions.bands_disagree import bands_disagree
from service.analysis.cautions.beyond_conductor_loss import beyond_conductor_loss
from service.analysis.cautions.blanks_read_as_lost import blanks_read_as_lost
from service.analysis.cautions.caution import Caution
from service.analysis.cautions.coarse_meter import coarse_meter
from service.analysis.cautions.depends_on_channels import depends_on_channels
from service.analysis.cautions.drift import drift
from service.analysis.cautions.far_apart import far_apart
from service.analysis.cautions.few_rounds import few_rounds
from service.analysis.cautions.gauge_table_unknown import gauge_table_unknown
from service.analysis.cautions.geometry_differs import geometry_differs
from service.analysis.cautions.identical_runs import identical_runs
from service.analysis.cautions.incomplete_rounds import incomplete_rounds
from service.analysis.cautions.margin_below_repeatability import margin_below_repeatability
from service.analysis.cautions.not_connected import not_connected
from service.analysis.cautions.odd_channel_round import odd_channel_round
from service.analysis.cautions.odd_run import odd_run
from service.analysis.cautions.one_mounting import one_mounting
from service.analysis.cautions.one_rf_channel import one_rf_channel
from service.analysis.cautions.one_rf_channel_decides import one_rf_channel_decides
from service.analysis.cautions.one_round import one_round
from service.analysis.cautions.order_fixed import order_fixed
from service.analysis.cautions.outcome_hangs_on_strike import outcome_hangs_on_strike
from service.analysis.cautions.pad_not_seen import pad_not_seen
from service.analysis.cautions.plan_changed import plan_changed
from service.analysis.cautions.plan_not_stated import plan_not_stated
from service.analysis.cautions.reference_step import reference_step
from service.analysis.cautions.rests_on_known_repeatability import rests_on_known_repeatability
from service.analysis.cautions.rf_channel_guessed import rf_channel_guessed
from service.analysis.cautions.rf_channel_unknown import rf_channel_unknown
from service.analysis.cautions.rounds_inferred import rounds_inferred
from service.analysis.cautions.runs_struck import runs_struck
from service.analysis.cautions.safety import safety
from service.analysis.cautions.several_things_differ import several_things_differ
from service.analysis.cautions.shared_rf_channel import shared_rf_channel
from service.analysis.cautions.twin_differs import twin_differs
from service.analysis.cautions.unequal_noise import unequal_noise
from service.analysis.cautions.unitless_total import unitless_total
from service.analysis.cautions.unplanned_looks import unplanned_looks
from service.analysis.facts import Facts

FINDERS: tuple[Callable[[Facts], Caution | None], ...] = (
    one_round,
    few_rounds,
    one_mounting,
    rounds_inferred,
    incomplete_rounds,
    far_apart,
    not_connected,
    order_fixed,
    plan_not_stated,
    plan_changed,
    unplanned_looks,
    rf_channel_unknown,
    rf_channel_guessed,
    shared_rf_channel,
    blanks_read_as_lost,
    at_ceiling,
    at_floor,
    coarse_meter,
    unitless_total,
    one_rf_channel,
    identical_runs,
    drift,
    reference_step,
    unequal_noise,
    odd_run,
    odd_channel_round,
    margin_below_repeatability,
    rests_on_known_repeatability,
    depends_on_channels,
    bands_disagree,
    one_rf_channel_decides,
    runs_struck,
    outcome_hangs_on_strike,
    twin_differs,
    pad_not_seen,
    geometry_differs,
    several_things_differ,
    gauge_table_unknown,
    beyond_conductor_loss,
    safety,
)


def cautions(facts: Facts) -> tuple[Caution, ...]:
    """All cautions of a trial, in the order of `FINDERS`."""
    found = (find(facts) for find in FINDERS)
    return tuple(caution for caution in found if caution is not None)
