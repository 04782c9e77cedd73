"""Query parameters: known, once, and of their kind."""

import pytest
from marshmallow import ValidationError

from service.api.schemas.query import VerdictQuerySchema, trial_of_query


def places(answer) -> dict[str, dict]:
    assert answer.status_code == 422
    return {place["parameter"]: place for place in answer.json["errors"]}


def post(client, query: str):
    return client.post(f"/v1/verdicts?{query}", data=b"", content_type="text/csv")


def test_an_unknown_parameter_is_refused_with_the_near_names(client, desk):
    found = places(post(client, "unit=bars&planed_rounds=6"))
    assert set(found) == {"planed_rounds"}
    assert "Did you mean planned_rounds?" in found["planed_rounds"]["detail"]
    assert found["planed_rounds"]["given"] == "6"
    assert desk.batches == []


def test_every_faulty_parameter_is_told_at_once(client):
    found = places(post(client, "unit=bars&highest=ten&seed=1.5&paper=a5&x=1"))
    assert set(found) == {"highest", "seed", "paper", "x"}
    assert found["highest"]["given"] == "ten"


def test_a_parameter_given_twice_is_refused(client):
    found = places(post(client, "unit=bars&unit=dB&margin=1"))
    assert set(found) == {"unit"}
    assert "more than once" in found["unit"]["detail"]


@pytest.mark.parametrize("path", ["/healthz", "/readyz", "/v1/openapi.json", "/v1/problems/bad-input"])
def test_routes_without_parameters_take_none(client, path):
    assert client.get(path).status_code == 200
    assert set(places(client.get(f"{path}?verbose=1"))) == {"verbose"}


@pytest.mark.parametrize("text", ["", "0,5", "1_000", " 5", "nan", "inf", "1e999", "0x10", "٣", "--1"])
def test_a_number_has_one_spelling(text):
    with pytest.raises(ValidationError):
        VerdictQuerySchema().load({"margin": text})


@pytest.mark.parametrize(("text", "number"), [("0.5", 0.5), ("-3", -3.0), ("1e-2", 0.01), ("+2.0", 2.0)])
def test_a_number_in_that_spelling_is_read(text, number):
    assert VerdictQuerySchema().load({"margin": text})["margin"] == number


def test_the_query_becomes_a_trial_document_with_only_what_was_given():
    given = {"unit": "bars", "highest": "10", "margin": "0.5", "planned_rounds": "8", "title": "Quay"}
    query = VerdictQuerySchema().load(given)
    assert trial_of_query(query) == {
        "meter": {"unit": "bars", "highest": 10.0},
        "title": "Quay",
        "margin": 0.5,
        "planned_rounds": 8,
    }


def test_marks_are_split_at_commas():
    query = VerdictQuerySchema().load({"nothing_found": "-, n/a,", "not_scanned": "x"})
    assert (query["nothing_found"], query["not_scanned"]) == (("-", "n/a"), ("x",))
    with pytest.raises(ValidationError):
        VerdictQuerySchema().load({"nothing_found": " , "})


def test_a_parameter_given_twice_is_told_beside_the_other_faults(client):
    answer = client.post(
        "/v1/verdicts?unit=dB&unit=dB&margin=x&colour=red", data=b"x", content_type="text/csv"
    )
    assert [place["parameter"] for place in answer.json["errors"]] == ["unit", "margin", "colour"]
