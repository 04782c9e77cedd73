"""Values and sentences that a document carries and a report shows have words that can be translated."""

import json
from pathlib import Path

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
from service.radio import antenna
from service.radio.conductor import Conductor
from service.radio.conductor_loss import compare
from service.radio.conductors import material
from service.statistics.non_inferiority import FALLS_SHORT, HOLDS
from service.statistics.results import NEEDS_MORE_RUNS
from service.trial import level_channels
from service.trial import trial as of_trial

SCHEMA = Path(__file__).parents[2] / "openapi" / "analysis-document.schema.json"


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


ROWS = (
    pytest.param(2000.0, 2.0, id="too-long"),
    pytest.param(90.0, 40.0, id="not-slender"),
    pytest.param(90.0, 0.003, id="not-thick"),
)


def row_of(kind, length_mm, diameter_mm, metal="silver"):
    """Two of one conductor at 600 MHz, as a document tells it."""
    conductor = Conductor(material(metal), None, "rod", diameter_mm, length_mm)
    return compare(conductor, conductor, kind, frequency_mhz=600.0).document()


@pytest.mark.parametrize("kind", antenna.KINDS)
@pytest.mark.parametrize(("length_mm", "diameter_mm"), ROWS)
def test_why_a_formula_does_not_hold_is_said_in_english_as_the_document_has_it(kind, length_mm, diameter_mm):
    row = row_of(kind, length_mm, diameter_mm)
    assert not row["valid"]
    assert formula_limits.said(row) == row["why"]


def test_every_limit_of_a_formula_has_words_and_the_documents_say_which_there_are():
    met = [row_of(antenna.LOOP, *row.values) for row in ROWS]
    met.append(row_of(antenna.LOOP, 600.0, 2.0, "steel"))
    assert formula_limits.said(met[-1]) == met[-1]["why"]
    codes = {reason["code"] for row in met for reason in row["reasons"]}
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))["properties"]["conductor_loss"]["properties"]
    allowed = schema["rows"]["items"]["properties"]["reasons"]["items"]["properties"]["code"]["enum"]
    assert codes == set(formula_limits.SENTENCES) == set(allowed)


def test_the_numbers_in_it_are_written_as_the_locale_does():
    row = row_of(antenna.LOOP, 2000.0, 2.0)
    with speaking("en-DE"):
        assert formula_limits.said(row) == row["why"].replace("4.00", "4,00").replace("2.5", "2,5")


def test_a_reason_without_a_code_that_is_known_is_shown_as_it_stands():
    row = {"why": "It is {too} long."}
    assert formula_limits.said(row) == formula_limits.said(row | {"reasons": []}) == row["why"]
    newer = {"code": "of-tomorrow", "evidence": {}}
    assert formula_limits.said(row | {"reasons": [newer]}) == row["why"]
