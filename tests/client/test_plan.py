"""`aerial-assay plan`: what is sent for what is given, what is printed and left."""

import io
import json

import pytest
from click.testing import CliRunner
from flask import Flask, Response, request

from service.client.plan import plan

TRIAL = {"meter": {"unit": "bars", "highest": 10}, "elements": [{"id": "a"}, {"id": "b"}]}
TIMES = ["--minutes-per-run", "6", "--minutes-available", "180"]


class Answering:
    """A service that keeps what it was asked and answers with the form's name."""

    def __init__(self):
        self.asked = []

    def create_app(self) -> Flask:
        app = Flask(__name__)

        @app.post("/v1/plans")
        def answer():
            body = request.get_json(silent=True)
            parts = {name: (part.mimetype, part.stream.read()) for name, part in request.files.items()}
            self.asked.append((request.args.to_dict(), body, parts))
            return Response(f"as {request.args['form']}\n")

        return app


@pytest.fixture
def service():
    return Answering()


@pytest.fixture
def trial(tmp_path):
    file = tmp_path / "trial.json"
    file.write_text(json.dumps(TRIAL))
    return str(file)


def run(service, *arguments):
    return CliRunner().invoke(plan, list(map(str, arguments)), obj=service.create_app)


def test_the_trial_and_the_times_are_sent_and_the_text_is_printed(service, trial):
    outcome = run(service, "--trial", trial, *TIMES, "--chance", "0.9")
    assert (outcome.exit_code, outcome.output) == (0, "as text\n")
    ((query, body, _),) = service.asked
    assert query == {"form": "text"}
    assert body == {"trial": TRIAL, "minutes_per_run": 6, "minutes_available": 180, "chance": 0.9}


def test_the_sheets_are_left_in_the_forms_that_their_endings_name(service, trial, tmp_path):
    sheet, book = tmp_path / "sheet.pdf", tmp_path / "fill.xlsx"
    outcome = run(
        service,
        "--trial",
        trial,
        *TIMES,
        "--sheet",
        sheet,
        "--workbook",
        book,
        "--paper",
        "letter",
        "--locale",
        "en-DE",
    )
    assert (sheet.read_text(), book.read_text()) == ("as pdf\n", "as xlsx\n")
    assert outcome.output.endswith(f"Left in {sheet} and {book}.\n")
    assert {(query["paper"], query["locale"]) for query, _, _ in service.asked} == {("letter", "en-DE")}


def test_a_document_that_is_no_object_is_for_the_service_to_judge(service, tmp_path):
    (tmp_path / "list.json").write_text("[1]")
    run(service, "--trial", tmp_path / "list.json", *TIMES)
    assert service.asked[0][1]["trial"] == [1]


def test_json_prints_the_document_and_nothing_else(service, trial, tmp_path):
    outcome = run(service, "--trial", trial, *TIMES, "--json", "--workbook", tmp_path / "fill.csv")
    assert outcome.output == "as json\n\n"
    assert (tmp_path / "fill.csv").read_text() == "as csv\n"


def test_fields_of_the_trial_stand_beside_or_instead_of_its_document(service, trial):
    run(service, "--trial", trial, *TIMES, "--margin", "0.5", "--lowest", "0", "--looks", "planned end")
    sent = service.asked[0][1]["trial"]
    assert sent == TRIAL | {
        "meter": {"unit": "bars", "highest": 10, "lowest": 0}, "margin": 0.5, "looks": "planned end"
    }  # fmt: skip
    refused = run(service, "--trial", trial, *TIMES, "--unit", "dB")
    assert refused.exit_code == 3
    assert "Leave --unit out" in refused.output
    run(service, *TIMES, "--unit", "bars", "--seed", "x")
    assert service.asked[1][1]["trial"] == {"meter": {"unit": "bars"}, "seed": "x"}


def test_a_table_is_continued_as_a_file_and_a_kept_trial_by_its_id(service, trial, tmp_path):
    scan = tmp_path / "scan.csv"
    scan.write_text("element,channel,value\na,x,3\n")
    run(service, "--trial", trial, *TIMES, "--continues", scan)
    parts = service.asked[0][2]
    assert parts["readings"] == ("text/csv", scan.read_bytes())
    assert json.load(io.BytesIO(parts["plan"][1]))["trial"] == TRIAL
    run(service, *TIMES, "--continues", "0f" * 16)
    assert service.asked[1][1]["continues"] == "0f" * 16
    assert "trial" not in service.asked[1][1]


def test_marks_of_the_table_that_is_continued_are_sent_beside_it(service, trial, tmp_path):
    scan = tmp_path / "scan.csv"
    scan.write_text("element,channel,value\na,x,-\n")
    run(service, "--trial", trial, *TIMES, "--continues", scan, "--nothing-found", "-", "--not-scanned", "x")
    query, _, parts = service.asked[0]
    assert query == {"form": "text", "nothing_found": "-", "not_scanned": "x"}
    assert json.load(io.BytesIO(parts["plan"][1]))["trial"] == TRIAL


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["--sheet", "sheet.doc"], ".pdf or .html"),
        (["--workbook", "fill.pdf"], ".xlsx or .csv"),
        (["--sheet", "nowhere/sheet.pdf"], "no folder"),
        (["--trial", "missing.json"], "cannot be read"),
        (["--trial", "{broken}"], "is no JSON"),
        (["--continues", "{batch}"], "as a table"),
        (["--continues", "0f" * 16, "--unit", "dB"], "its own document"),
    ],
)
def test_what_cannot_be_done_is_said_before_anything_is_sent(service, tmp_path, arguments, told):
    (tmp_path / "broken.json").write_text("{")
    (tmp_path / "batch.json").write_text("{}")
    given = [
        str(word).format(broken=tmp_path / "broken.json", batch=tmp_path / "batch.json") for word in arguments
    ]
    outcome = run(service, *TIMES, *given)
    assert outcome.exit_code == 3
    assert told in outcome.output
    assert service.asked == []
