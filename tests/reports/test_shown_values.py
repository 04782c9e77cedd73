"""Values and sentences that a document carries and a report shows have words that can be translated."""

import pytest

from reports.checks import method as of_check
from reports.error_rates import error_rates
from reports.findings import stated
from reports.histories import method as of_history
from reports.locales import speaking
from reports.wording import error_rates as rates
from reports.wording import formula_limits
from reports.wording.check_outcomes import OUTCOMES as CHECK_OUTCOMES
from reports.wording.design_history import OUTCOMES as HISTORY_OUTCOMES
from reports.wording.vocabulary import FORMS, LOOKS
from service.analysis import design_history
from service.analysis.checks import finding
from service.analysis.checks.signals import ONLY_THERE
from service.analysis.histories import trend
from service.radio import antenna, conductor_loss
from service.radio.conductor import Conductor
from service.radio.conductors import MATERIALS
from service.statistics.non_inferiority import FALLS_SHORT, HOLDS
from service.statistics.results import NEEDS_MORE_RUNS
from service.trial import level_channels
from service.trial import trial as of_trial


def test_every_value_of_the_analysis_has_words():
    assert set(CHECK_OUTCOMES) == {HOLDS, FALLS_SHORT, NEEDS_MORE_RUNS}
    assert set(HISTORY_OUTCOMES) == {trend.CREEPS, trend.NO_CREEP, trend.NEEDS_MORE_TRIALS}
    assert set(FORMS) == set(of_trial.FORMS)
    assert set(of_check._LIMITS) == {
        finding.SIGN_FLIP,
        finding.WELCH,
        finding.BANERJEE,
        finding.WELCH_SAMPLES,
        finding.BANERJEE_SAMPLES,
    }
    assert set(LOOKS) == {*of_trial.LOOKS, "once"}
    assert design_history.METHOD in of_history._METHODS
    assert set(stated._WHY) == {
        level_channels.NOT_SCANNED,
        level_channels.NOTHING_RECEIVED,
        level_channels.SAME_END,
        ONLY_THERE,
    }


def test_every_noise_that_the_study_measured_has_words():
    measured = error_rates()
    assert {kind.noise for kind in (*measured.promised, *measured.beyond)} == rates.NOISES


@pytest.mark.parametrize("kind", list(antenna.LONGEST))
@pytest.mark.parametrize(("length_mm", "diameter_mm"), [(2000.0, 2.0), (90.0, 40.0)])
def test_why_a_formula_does_not_hold_is_known_by_its_form(kind, length_mm, diameter_mm):
    conductor = Conductor(MATERIALS[0], None, "rod", diameter_mm, length_mm)
    why = antenna.radiation(kind, conductor, 600.0).why
    whole = f"{why} {conductor_loss.NOT_THICK} {conductor_loss.BRACKETED}"
    assert why
    assert formula_limits.said(whole) == whole
    assert formula_limits.said("It is {too} long.") == "It is {too} long."
    found = [form for _, form in formula_limits._FORMS if form.search(whole)]
    assert len(found) == 3


def test_the_numbers_in_it_are_written_as_the_locale_does():
    why = "The conductor is 1.20 wavelengths long; the formula holds to 0.9."
    with speaking("en-DE"):
        assert formula_limits.said(why) == why.replace("1.20", "1,20").replace("0.9", "0,9")
