"""GET /v1/channel-plans and /v1/channel-plans/{region}."""

import pytest

from service.api.schemas.radio import PlanSchema, PlansSchema
from service.radio.channel_plan import REGIONS
from tests.api.kept_requests import problem


def test_every_region_is_listed_with_its_source_status_and_date(client):
    answer = client.get("/v1/channel-plans")
    assert answer.status_code == 200
    regions = answer.json["regions"]
    assert [entry["id"] for entry in regions] == list(REGIONS)
    assert all(entry["source"] and entry["status"] and entry["date"] and entry["title"] for entry in regions)
    assert all(set(entry) == set(PlansSchema().fields["regions"].inner.schema.fields) for entry in regions)


@pytest.mark.parametrize("region", REGIONS)
def test_a_plan_lists_its_channels_as_described(client, region):
    plan = client.get(f"/v1/channel-plans/{region}").json
    assert set(plan) == set(PlanSchema().fields)
    channel = plan["channels"][0]
    assert set(channel) == set(PlanSchema().fields["channels"].inner.schema.fields)
    assert channel["low_mhz"] < channel["centre_mhz"] < channel["high_mhz"]
    assert isinstance(channel["rf_channel"], str)


@pytest.mark.parametrize("region", ["mars", "Europe", "europe.toml"])
def test_an_unknown_region_is_not_found_and_told_with_those_there_are(client, region):
    told = problem(client.get(f"/v1/channel-plans/{region}"), 404)
    assert "north_america, europe, australia, japan" in told["detail"]


@pytest.mark.parametrize("region", ["..", "%2e%2e"])
def test_a_region_is_no_way_out_of_the_folder(client, region):
    problem(client.get(f"/v1/channel-plans/{region}"), 404)


def test_unknown_query_parameters_are_refused(client):
    assert client.get("/v1/channel-plans?region=europe").status_code == 422
