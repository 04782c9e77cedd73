"""What spoilt bodies, bombs and requests from the description found, kept."""

import io
import zipfile

import pytest

from service.intake.workbook_archive import HIGHEST_RATIO, LARGE_BYTES, open_archive
from service.settings import Limits
from tests.api.kept_requests import HEADING, faults
from tests.intake.made_workbooks import XLSX, repacked, workbook

TABLE = "/v1/verdicts?unit=bars"
READING = {"element": "rod", "round": 1, "channel": "27", "value": 5}
EMPTY = [
    "margin",
    "confidence",
    "planned_rounds",
    "looks",
    "seed",
    "compares",
    "elements",
    "channels",
    "struck",
]


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


@pytest.fixture
def trial(client):
    return client.post("/v1/trials", json={"meter": {"unit": "bars"}}).headers["Location"]


@pytest.mark.parametrize("tag", ['""', 'W/""', '"1", ""', '"\xff"'])
@pytest.mark.parametrize("method", ["PATCH", "DELETE"])
def test_an_empty_or_odd_entity_tag_is_a_version_that_never_was(client, trial, method, tag):
    """An empty one was a server error."""
    answer = client.open(trial, method=method, json={"title": "x"}, headers={"If-Match": tag})
    assert answer.status_code == (412 if tag != '"1", ""' else (200 if method == "PATCH" else 204))


def test_a_part_of_a_form_without_a_name_is_refused_as_one(client):
    """Its name was told as null."""
    body = b'--b\r\nContent-Disposition: form-data; filename="r.csv"\r\n\r\na\r\n--b--\r\n'
    answer = client.post("/v1/verdicts", data=body, content_type="multipart/form-data; boundary=b")
    assert faults(answer)[0]["parameter"] == ""


@pytest.mark.parametrize("name", EMPTY)
def test_a_field_of_a_trial_that_is_null_is_the_default_as_described(client, name):
    answer = client.post("/v1/trials", json={"meter": {"unit": "bars"}, name: None})
    assert answer.status_code == 201


def test_empty_texts_of_a_reading_are_left_out_as_described(client, trial):
    reading = READING | {"at": "", "run": "", "mounting": "", "rf_channel": ""}
    assert client.post(f"{trial}/readings", json={"readings": [reading]}).status_code == 201


def test_a_heading_of_millions_of_signs_is_not_looked_up(client):
    """It took 4 seconds a megabyte."""
    body = f"element,round,channel,{'v' * 10**6}\nrod,1,27,5\n"
    assert "element, round, channel" in str(faults(client.post(TABLE, data=body, content_type="text/csv")))


def test_a_value_of_millions_of_digits_is_not_looked_into(client):
    body = f"{HEADING}\nrod,1,27,{'9' * 10**6}\n"
    (fault,) = faults(client.post(TABLE, data=body, content_type="text/csv"))
    assert "longer than 200 characters" in fault["detail"]
    assert len(fault["given"]) < 200


def test_what_is_no_ndjson_is_not_read_to_its_end(client):
    """A million lines took 10 seconds."""
    body = b"[\n" * 50_000
    answer = client.post(TABLE, data=body, content_type="application/x-ndjson")
    assert "the rest was not looked at" in str(faults(answer))
    assert answer.json["count"] == 1002


def test_a_thousand_lines_that_are_no_json_are_all_told(client):
    body = b"[\n" * 1000 + b'{"element": "rod", "round": 1, "channel": "27", "value": 5}'
    answer = client.post(TABLE, data=body, content_type="application/x-ndjson")
    assert faults(answer)
    assert answer.json["count"] == 1000


def test_a_sheet_of_the_same_row_over_and_over_is_refused_before_it_is_unpacked(client):
    """13 kB of empty rows took 5 seconds."""
    rows = b"<worksheet><sheetData>" + b"<row/>" * 10**6 + b"</sheetData></worksheet>"
    body = repacked(workbook([["element"]]), xl__worksheets__sheet1___xml=rows)
    answer = client.post(TABLE, data=io.BytesIO(body), content_type=XLSX)
    assert answer.status_code == 413
    assert "more than 200 times" in answer.json["detail"]
    assert "CSV" in answer.json["detail"]


def test_a_sheet_as_people_type_it_is_far_below():
    rows = [[f"element {row % 7}", row // 7, f"channel {row % 90}", row % 11] for row in range(20_000)]
    body = workbook(rows)
    (sheet,) = (part for part in zipfile.ZipFile(io.BytesIO(body)).infolist() if "sheet1" in part.filename)
    assert sheet.file_size > LARGE_BYTES
    assert sheet.file_size < HIGHEST_RATIO / 5 * sheet.compress_size
    assert open_archive(body, Limits())


def test_parts_that_would_begin_before_the_workbook_does_are_broken(client):
    """The end record of a zip says where its directory stands: 4 bytes, 6 from its end (APPNOTE 4.3.16)."""
    body = workbook([HEADING.split(","), ["rod", 1, "27", 5]])
    directory = int.from_bytes(body[-6:-2], "little") + 10**6
    answer = client.post(
        TABLE, data=body[:-6] + directory.to_bytes(4, "little") + body[-2:], content_type=XLSX
    )
    assert answer.status_code == 400
    assert "broken in its part" in answer.json["detail"]


@pytest.mark.parametrize("lines", [1, 50])
def test_a_table_that_begins_with_nothing_but_odd_spaces_is_refused(client, lines):
    body = "\u00a0\n" * lines + "element,round,channel,value\nrod,1,27,5" * (lines > 1)
    answer = client.post(TABLE, data=body, content_type="text/csv")
    assert answer.status_code == 400
    assert f"nothing but spaces down to line {min(lines, 40)}" in answer.json["detail"]


def test_far_more_channels_than_are_taken_are_counted_alone(client):
    body = HEADING + "\n" + "".join(f"rod,1,c{channel},5\n" for channel in range(30_000))
    (fault,) = faults(client.post(TABLE, data=body, content_type="text/csv"))
    assert "30000 channels; at most 2000" in fault["detail"]
