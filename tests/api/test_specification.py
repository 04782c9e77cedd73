"""The description that the code writes: valid, equal to the file, and true of the routes."""

import json
from pathlib import Path

import pytest
from openapi_spec_validator import OpenAPIV31SpecValidator

from service.api.negotiation import VERDICT_FORMS
from service.api.schemas.analysis import AnalysisSchema
from service.api.schemas.readings import ReadingSchema
from service.api.schemas.trial import ElementSchema, MeterSchema, TrialSchema
from service.api.specification import specification, specification_text
from service.client.options import TRIAL_FIELDS
from service.storage.key_rows import KEPT_HOURS
from service.trial.trial import Element, Meter, Trial

OPENAPI = Path(__file__).parents[2] / "openapi"


@pytest.fixture
def document(client):
    return client.get("/v1/openapi.json").json


def test_it_is_valid_openapi_3_1(document):
    assert document["openapi"].startswith("3.1.")
    OpenAPIV31SpecValidator(document).validate()


def test_the_file_is_what_the_code_writes(app):
    """If it is not: `python -m tests.api.write_specification` writes it, and CHANGES.md tells callers."""
    assert (OPENAPI / "openapi.json").read_text(encoding="utf-8") == specification_text(app)


def test_the_answer_is_what_the_code_writes(app, document):
    assert document == specification(app)


def test_every_reference_leads_somewhere(document):
    def references(part):
        if isinstance(part, dict):
            yield from [part["$ref"]] if "$ref" in part else []
            part = list(part.values())
        for inner in part if isinstance(part, list) else []:
            yield from references(inner)

    found = set(references(document))
    assert len(found) > 10
    for reference in found:
        target = document
        for step in reference.removeprefix("#/").split("/"):
            target = target[step]


def test_every_route_is_described_and_every_description_is_a_route(app, document):
    routes = {
        (rule.rule.replace("<", "{").replace(">", "}"), method.lower())
        for rule in app.url_map.iter_rules()
        if not rule.endpoint.startswith("pages-")
        for method in rule.methods - {"HEAD"}
    }
    described = {(path, m) for path, item in document["paths"].items() for m in item if m != "parameters"}
    assert routes == described


def test_every_error_is_described_as_a_problem(document):
    for path, item in document["paths"].items():
        for operation in (part for name, part in item.items() if name != "parameters"):
            answers = operation["responses"].items()
            errors = {status: answer for status, answer in answers if status[0] not in "23"}
            assert {"422", "500", "default"} <= errors.keys(), path
            for answer in errors.values():
                name = answer["$ref"].rsplit("/", 1)[-1]
                assert list(document["components"]["responses"][name]["content"]) == [
                    "application/problem+json"
                ]


def test_unknown_members_of_requests_are_closed_out(document):
    schemas = document["components"]["schemas"]
    for name in (
        "VerdictRequest",
        "Trial",
        "Meter",
        "Element",
        "Channel",
        "Strike",
        "Reading",
        "Cost",
        "Gauge",
        "BatchRequest",
        "TrialPatch",
        "MeterPatch",
    ):
        assert schemas[name]["additionalProperties"] is False


def test_the_forms_described_are_the_forms_made(document):
    operation = document["paths"]["/v1/verdicts"]["post"]
    assert list(operation["responses"]["200"]["content"]) == list(VERDICT_FORMS.values())
    (form,) = (p for p in operation["parameters"] if p["name"] == "form")
    assert form["schema"]["enum"] == list(VERDICT_FORMS)


def names(schema) -> set[str]:
    return {field.data_key or name for name, field in schema().fields.items()}


def test_the_trial_described_is_the_trial_that_is_read():
    assert names(TrialSchema) == set(Trial(meter=Meter("bars")).document())
    assert names(MeterSchema) == set(Trial(meter=Meter("bars")).document()["meter"])
    read_as_text = {"diameter", "length"}  # with a unit; the document holds millimetres
    assert names(ElementSchema) - read_as_text == set(Element.__dataclass_fields__)


def test_a_patch_may_change_what_a_trial_has_and_give_a_reason(document):
    schemas = document["components"]["schemas"]
    assert set(schemas["TrialPatch"]["properties"]) == {*schemas["Trial"]["properties"], "reason"}
    assert "required" not in schemas["MeterPatch"]
    assert {"id", "kept"} | schemas["Trial"]["properties"].keys() == schemas["KeptTrial"]["properties"].keys()


def test_the_retention_of_idempotency_keys_is_published(document):
    (header,) = (
        parameter
        for parameter in document["paths"]["/v1/trials/{trial_id}/readings"]["post"]["parameters"]
        if parameter["name"] == "Idempotency-Key"
    )
    assert f"{KEPT_HOURS} hours" in header["description"]
    assert header["schema"]["maxLength"] == 255


def test_the_analysis_described_is_the_one_of_its_json_schema():
    schema = json.loads((OPENAPI / "analysis-document.schema.json").read_text(encoding="utf-8"))
    assert names(AnalysisSchema) == set(schema["properties"]) == set(schema["required"])


def test_the_examples_fit_what_is_described():
    request = json.loads((OPENAPI / "examples" / "verdict-request.json").read_text(encoding="utf-8"))
    assert TrialSchema().validate(request["trial"]) == {}
    assert ReadingSchema(many=True).validate(request["readings"]) == {}
    trial = json.loads((OPENAPI / "examples" / "demo-trial.json").read_text(encoding="utf-8"))
    assert TrialSchema().validate(trial) == {}


def test_the_command_line_offers_the_fields_that_the_query_takes(document):
    parameters = {p["name"] for p in document["paths"]["/v1/verdicts"]["post"]["parameters"]}
    assert {name for name, _, _ in TRIAL_FIELDS} | {"form", "paper", "shape", "locale"} == parameters
