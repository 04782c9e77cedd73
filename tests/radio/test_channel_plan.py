"""Channel plans against the edges and centres of the collected tables, region by region."""

import pytest

from service.radio.channel_plan import REGIONS, channel_plan
from service.trial.trial import REGIONS as TRIAL_REGIONS
from tests.radio.facts import FACTS

PLANS = {
    name: plan for name, plan in FACTS["channel_plans"].items() if isinstance(plan, dict) and "rules" in plan
}
EDGES = [(region, name, edges) for region, plan in PLANS.items() for name, edges in plan["check"].items()]
CENTRES = [
    (region, name, centre)
    for region, plan in PLANS.items()
    for name, centre in (plan["check_centre"] if region == "japan" else plan.get("centre", {})).items()
]


def test_every_region_of_the_tables_has_a_plan_and_is_a_region_of_trials():
    assert set(REGIONS) == set(PLANS) == set(TRIAL_REGIONS)


@pytest.mark.parametrize(("region", "name", "edges"), EDGES)
def test_edges_are_those_of_the_table(region, name, edges):
    found = channel_plan(region).channel(name)
    assert [found.low_mhz, found.high_mhz] == edges


@pytest.mark.parametrize(("region", "name", "centre"), CENTRES)
def test_centres_are_those_of_the_table(region, name, centre):
    assert channel_plan(region).channel(name).centre_mhz == pytest.approx(centre, abs=5e-7)


@pytest.mark.parametrize("region", REGIONS)
def test_the_numbers_there_are_follow_from_the_rules_of_the_table(region):
    wanted = []
    for rule in PLANS[region]["rules"]:
        ends = rule["ch"]
        wanted += [ends] if isinstance(ends, str) else [str(n) for n in range(ends[0], ends[1] + 1)]
    plan = channel_plan(region)
    assert [channel.rf_channel for channel in plan.channels] == wanted
    assert [c.low_mhz for c in plan.channels] == sorted(c.low_mhz for c in plan.channels)


@pytest.mark.parametrize("region", REGIONS)
def test_every_channel_follows_its_rule(region):
    """`low_edge` is a formula of the table such as 470+6*(n-14)."""
    plan = channel_plan(region)
    for rule in (rule for rule in PLANS[region]["rules"] if not isinstance(rule["ch"], str)):
        base, step, first = (
            float(part) for part in rule["low_edge"].replace("*(n-", "+").rstrip(")").split("+")
        )
        for number in range(rule["ch"][0], rule["ch"][1] + 1):
            assert plan.channel(str(number)).low_mhz == base + step * (number - first)


@pytest.mark.parametrize("region", REGIONS)
def test_a_plan_names_its_source_its_status_and_its_date(region):
    heading = channel_plan(region).heading()
    assert heading["status"].split(" ")[0] == PLANS[region]["status"].split(" ")[0]
    assert heading["source"].split(" ")[0] == PLANS[region]["source"].split(" ")[0]
    assert len(heading["date"]) == len("2026-11-25")


def test_bands_of_north_america_are_those_of_the_table():
    plan = channel_plan("north_america")
    for band, (first, last) in PLANS["north_america"]["bands"].items():
        assert {c.rf_channel for c in plan.channels if c.band == band} == {
            str(n) for n in range(first, last + 1)
        }
    assert plan.bands() == ("VHF-low", "VHF-high", "UHF")


@pytest.mark.parametrize(
    ("frequency", "wavelength"),
    [(float(f), w) for f, w in FACTS["channel_plans"]["wavelength"].items() if f[0].isdigit()],
)
def test_wavelengths_are_those_of_the_table(frequency, wavelength):
    found = [c for c in channel_plan("north_america").channels if c.centre_mhz == frequency]
    assert [c.wavelength_m for c in found] == [pytest.approx(wavelength, abs=5e-4)]


def test_one_number_is_another_frequency_in_another_region():
    assert channel_plan("north_america").channel("14").low_mhz == 470
    assert channel_plan("japan").channel("14").low_mhz == 476


@pytest.mark.parametrize("written", ["9A", "9a", " 9A "])
def test_a_number_that_is_none_is_found_as_it_may_be_written(written):
    assert channel_plan("australia").channel(written).low_mhz == 202


def test_leading_zeros_do_not_matter():
    assert channel_plan("europe").channel("05").low_mhz == 174


@pytest.mark.parametrize("written", ["27.1", "27-1", "13", "0", "", "49", "9A"])
def test_what_is_no_rf_channel_of_the_region_is_not_found(written):
    assert channel_plan("europe").channel(written) is None


def test_a_refusal_says_what_is_known_and_what_a_displayed_number_is():
    said = channel_plan("australia").refusal("27.1")
    assert "6 to 9, 9A, 10 to 12, 28 to 51" in said
    assert "displayed number is not an RF channel number" in said


def test_a_reserved_number_is_told_by_what_it_carries():
    assert "radio astronomy" in channel_plan("north_america").refusal("37")
    assert "radio astronomy" not in channel_plan("north_america").refusal("38")


def test_an_unknown_region_has_no_plan():
    with pytest.raises(KeyError, match="mars"):
        channel_plan("mars")
