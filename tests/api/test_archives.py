"""Archives over HTTP, and the command that replays one."""

import json
import zipfile

import pytest
from click.testing import CliRunner

from service.app import create_app
from service.client.replay import replay
from service.settings import Settings
from tests.jobs.archives import forged, members_of
from tests.jobs.kept import TRIAL, table

MISSING = "0" * 32
ZIP = "application/zip"


@pytest.fixture(scope="module")
def client(sqlite_app):
    return sqlite_app.test_client()


@pytest.fixture(scope="module")
def trial(client):
    trial = client.post("/v1/trials", json=TRIAL).json["id"]
    client.post(f"/v1/trials/{trial}/readings", data=table(), content_type="text/csv")
    return trial


@pytest.fixture(scope="module")
def archive(client, trial):
    return client.get(f"/v1/trials/{trial}/archive")


def differing(archive) -> bytes:
    document = json.loads(members_of(archive.data)["analysis.json"])
    document["verdict"]["outcome"] = "within noise"
    return forged(archive.data, analysis_json=json.dumps(document).encode())


def test_an_archive_is_a_file_to_keep(client, trial, archive):
    assert (archive.status_code, archive.content_type) == (200, ZIP)
    assert archive.headers["Content-Disposition"] == f'attachment; filename="trial-{trial}.zip"'
    assert client.get(f"/v1/trials/{trial}/archive").data == archive.data
    assert client.get(f"/v1/trials/{trial}/analyses").json["analyses"][0]["state"] == "done"


def test_it_is_replayed_from_the_body_and_from_what_is_kept(client, trial, archive):
    from_body = client.post(f"/v1/trials/{trial}/replay", data=archive.data, content_type=ZIP)
    kept = client.post(f"/v1/trials/{trial}/replay")
    assert from_body.status_code == kept.status_code == 200
    assert from_body.json == kept.json
    assert from_body.json["agrees"]


def test_another_installation_need_not_have_the_trial(tmp_path, trial, archive):
    other = create_app(Settings(database=f"sqlite:///{tmp_path / 'other.sqlite3'}", references=tmp_path))
    answer = other.test_client().post(f"/v1/trials/{trial}/replay", data=archive.data, content_type=ZIP)
    assert answer.json["agrees"]
    assert not (tmp_path / "other.sqlite3").exists()


def test_what_is_no_archive_is_refused(client, trial):
    broken = client.post(f"/v1/trials/{trial}/replay", data=b"PK", content_type=ZIP)
    assert (broken.status_code, broken.content_type) == (422, "application/problem+json")
    table_sent = client.post(f"/v1/trials/{trial}/replay", data=b"a,b", content_type="text/csv")
    assert (table_sent.status_code, table_sent.headers["Accept-Post"]) == (415, ZIP)


@pytest.mark.parametrize(("method", "path"), [("GET", "archive"), ("POST", "replay")])
def test_what_is_not_there_is_told(client, method, path):
    answer = client.open(f"/v1/trials/{MISSING}/{path}", method=method)
    assert (answer.status_code, answer.content_type) == (404, "application/problem+json")


@pytest.fixture
def run(sqlite_app, tmp_path):
    def run(body: bytes, *arguments: str):
        file = tmp_path / "trial.zip"
        file.write_bytes(body)
        return CliRunner().invoke(replay, [str(file), *arguments], obj=lambda: sqlite_app)

    return run


def test_the_command_says_that_it_agrees(run, archive):
    result = run(archive.data)
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == "Agrees, to the last byte: clear winner.\n"
    assert json.loads(run(archive.data, "--json").stdout)["same_bytes"]


def test_the_command_lists_where_it_differs_with_status_1(run, archive):
    result = run(differing(archive))
    assert result.exit_code == 1
    assert result.stdout.splitlines() == [
        "Differs: it was within noise and is clear winner.",
        '  #/verdict/outcome: "within noise" then, "clear winner" now',
    ]


def test_the_command_says_when_only_other_versions_keep_bytes_from_being_the_same(run, archive):
    document = json.loads(members_of(archive.data)["analysis.json"])
    document["method"]["versions"]["numpy"] = "1.0"
    head = json.loads(members_of(archive.data)["archive.json"]) | {"machine": {}}
    moved = forged(
        archive.data, analysis_json=json.dumps(document).encode(), archive_json=json.dumps(head).encode()
    )
    result = run(moved)
    assert result.exit_code == 0
    assert result.stdout.startswith("Agrees: clear winner. The same outcomes and counts")


def test_the_command_refuses_what_is_no_archive_with_status_3(run, tmp_path):
    assert run(b"none").exit_code == 3
    empty = tmp_path / "empty.zip"
    with zipfile.ZipFile(empty, "w") as file:
        file.writestr("archive.json", '{"trial": {"id": "../../etc"}}')
    result = run(empty.read_bytes())
    assert result.exit_code == 3
    assert "is not the archive of a trial" in result.stderr
    missing = CliRunner().invoke(replay, [str(tmp_path / "nowhere.zip")])
    assert missing.exit_code == 3
    assert "cannot be read" in missing.stderr
