"""Files become one request, and rows of the request lead back to the files."""

from pathlib import Path

import pytest

from service.client.packages import package_files
from service.client.trouble import Trouble

HEADING = b"element,round,channel,value\n"


def write(folder: Path, name: str, content: bytes) -> Path:
    path = folder / name
    path.write_bytes(content)
    return path


def test_one_table_is_sent_as_it_is(tmp_path):
    content = b"\xef\xbb\xbfelement;round;channel;value\r\na;1;27;5\r\n"
    package = package_files([write(tmp_path, "R.CSV", content)], None)
    assert (package.body, package.media_type, package.trial) == (content, "text/csv", None)
    assert package.request() == {"content": content, "headers": {"Content-Type": "text/csv"}}
    assert package.place_of_row(2) == "R.CSV line 2"


@pytest.mark.parametrize("ending", [".tsv", ".tab"])
def test_the_ending_tells_the_media_type(tmp_path, ending):
    package = package_files([write(tmp_path, f"r{ending}", HEADING)], None)
    assert package.media_type == "text/tab-separated-values"


def test_a_table_with_a_trial_is_sent_as_a_form(tmp_path):
    table, trial = write(tmp_path, "r.csv", HEADING), write(tmp_path, "t.json", b"{}")
    files = package_files([table], trial).request()["files"]
    assert files["readings"] == ("readings", HEADING, "text/csv")
    assert files["trial"] == ("trial.json", b"{}", "application/json")


def test_tables_alike_are_one_batch_with_one_heading(tmp_path):
    first = write(tmp_path, "one.csv", HEADING + b"a,1,27,5\na,1,28,6")
    second = write(
        tmp_path, "two.csv", b"\xef\xbb\xbf\r\nelement,round,channel,value \r\nb,1,27,4\r\nb,1,28,3\r\n"
    )
    package = package_files([first, second], None)
    assert package.body == HEADING + b"a,1,27,5\na,1,28,6\nb,1,27,4\nb,1,28,3\n"
    places = [package.place_of_row(row) for row in (1, 3, 4, 5)]
    assert places == ["one.csv line 1", "one.csv line 3", "two.csv line 3", "two.csv line 4"]


@pytest.mark.parametrize(
    ("ending", "media_type"),
    [
        (".ndjson", "application/x-ndjson"),
        (".JSONL", "application/x-ndjson"),
        (".xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"),
    ],
)
def test_other_forms_are_sent_as_they_are(tmp_path, ending, media_type):
    package = package_files([write(tmp_path, f"r{ending}", b"PK\r\n")], None)
    assert (package.body, package.media_type) == (b"PK\r\n", media_type)


def test_lines_of_json_are_one_batch_without_a_heading(tmp_path):
    first, second = write(tmp_path, "one.ndjson", b"{}\n{}\n"), write(tmp_path, "two.ndjson", b"\n{}\n")
    package = package_files([first, second], None)
    assert package.body == b"{}\n{}\n\n{}\n"
    assert [package.place_of_row(row) for row in (2, 4)] == ["one.ndjson line 2", "two.ndjson line 2"]


def test_workbooks_go_alone(tmp_path):
    book = write(tmp_path, "b.xlsx", b"PK")
    with pytest.raises(Trouble, match="Only one workbook"):
        package_files([book, book], None)


def test_tables_of_different_encodings_are_not_mixed(tmp_path):
    plain = write(tmp_path, "one.csv", HEADING + b"a,1,27,5\n")
    windows = write(tmp_path, "two.csv", HEADING + b"\xe9,1,27,5\n")
    utf8 = write(tmp_path, "three.csv", HEADING + "é,1,27,5\n".encode())
    wide = write(tmp_path, "four.csv", HEADING.decode().encode("utf-16"))
    package_files([plain, windows], None)
    package_files([plain, utf8], None)
    for files, name in (([utf8, windows], "two"), ([windows, utf8], "two"), ([plain, wide], "four")):
        with pytest.raises(Trouble, match=rf"{name}\.csv is not in UTF-8 like the others"):
            package_files(files, None)


def test_a_json_batch_goes_alone(tmp_path):
    batch = write(tmp_path, "b.json", b"{}")
    assert package_files([batch], None).request()["headers"] == {"Content-Type": "application/json"}
    with pytest.raises(Trouble, match="one JSON batch"):
        package_files([batch, batch], None)
    with pytest.raises(Trouble, match="holds a trial itself"):
        package_files([batch], batch)


def test_files_that_make_no_batch_are_refused_by_name(tmp_path):
    table = write(tmp_path, "one.csv", HEADING)
    with pytest.raises(Trouble, match=r"two\.csv has another heading than one\.csv"):
        package_files([table, write(tmp_path, "two.csv", b"channel,a@1\n")], None)
    with pytest.raises(Trouble, match=r"three\.csv is empty"):
        package_files([table, write(tmp_path, "three.csv", b"\n\n")], None)
    with pytest.raises(Trouble, match="different kinds"):
        package_files([table, write(tmp_path, "four.tsv", HEADING)], None)
    with pytest.raises(Trouble, match=r"five.ods .* \.csv, \.tsv, \.tab, \.ndjson, \.jsonl, \.xlsx, \.json"):
        package_files([write(tmp_path, "five.ods", b"PK")], None)


def test_a_file_that_cannot_be_read_is_named(tmp_path):
    with pytest.raises(Trouble, match=r"gone\.csv cannot be read: No such file"):
        package_files([tmp_path / "gone.csv"], None)
    with pytest.raises(Trouble, match=r"cannot be read: Is a directory"):
        package_files([write(tmp_path, "r.csv", HEADING)], tmp_path)
