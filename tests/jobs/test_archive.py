"""Archives: the same bytes for the same trial, replayed to the same verdict, and safe to open."""

import io
import json
import random
import warnings
import zlib

import numpy as np
import pytest

from service.errors import BadInput, Conflict, NotKnown, ServiceError, TooLarge
from service.jobs import archived_trial, replay
from service.jobs.archive_zip import DIGESTS, REQUIRED, unzipped
from service.settings import Limits
from tests.jobs.archives import Archivist, forged, members_of, raw_zip
from tests.jobs.kept import OWNER

MOST = Limits().archive_bytes
FLIPS, TRUNCATIONS = 1600, 400


@pytest.fixture(scope="module")
def archivist(tmp_path_factory):
    folder = tmp_path_factory.mktemp("archive")
    archivist = Archivist(f"sqlite:///{folder / 'kept.sqlite3'}", folder)
    yield archivist
    archivist.server.close()


def test_every_kind_of_database_archives_what_replays(database_url, tmp_path_factory):
    archivist = Archivist(database_url, tmp_path_factory.mktemp("references"))
    try:
        assert archivist.replay(archivist.archive())["same_bytes"]
    finally:
        archivist.server.close()


@pytest.fixture(scope="module")
def archive(archivist):
    return archivist.archive()


def test_the_same_trial_gives_the_same_bytes(archivist, archive):
    assert archivist.archive() == archive


def test_it_holds_all_that_the_verdict_was_reached_from(archive):
    members = members_of(archive)
    assert list(members)[:4] == ["archive.json", "trial.json", "history.json", "batches.json"]
    assert members["batches/0002.body"].startswith(b"element,round,channel,value\n")
    history = json.loads(members["history.json"])
    assert history["first_plan"]["margin"] == 1.0
    assert [change["reason"] for change in history["changes"]] == ["asked for finer"]
    kinds = [entry["kind"] for entry in json.loads(members["batches.json"])]
    assert kinds == ["readings", "readings", "readings", "withdrawal", "correction"]
    head = json.loads(members["archive.json"])
    assert head["seed"] == 1
    assert head["versions"]["numpy"] == np.__version__
    readings = members["readings.csv"].decode().splitlines()
    assert len(readings) == 1 + 3 * 3 * 6
    assert "wire,2,Quay,19.4" in readings


def test_replaying_it_here_gives_the_same_bytes(archivist, archive):
    found = archivist.replay(archive)
    assert (found["agrees"], found["same_bytes"], found["same_bytes_expected"]) == (True, True, True)
    assert found["differences"] == []
    assert found["trial"] == archivist.trial


def test_replaying_what_is_kept_agrees_too(archivist):
    assert archivist.desk.replay_kept(OWNER, archivist.trial)["same_bytes"]


def test_without_a_verdict_there_is_nothing_to_hold_another_against(archivist):
    with pytest.raises(Conflict, match="has not been analysed"):
        archivist.desk.replay_kept(OWNER, archivist.server.kept_trial())
    for attempt in (archivist.desk.archive, archivist.desk.replay_kept):
        with pytest.raises(NotKnown):
            attempt("else", archivist.trial)


def test_an_archive_is_replayed_at_the_path_of_its_trial(archivist, archive):
    with pytest.raises(BadInput) as caught:
        archivist.replay(archive, "0" * 32)
    assert archivist.trial in caught.value.faults[0].detail


def changed_analysis(archive: bytes, change) -> bytes:
    document = json.loads(members_of(archive)["analysis.json"])
    change(document)
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"))
    return forged(archive, analysis_json=text.encode())


def elsewhere(archive: bytes, **about) -> bytes:
    head = json.loads(members_of(archive)["archive.json"]) | about
    return forged(archive, archive_json=json.dumps(head).encode())


def test_elsewhere_numbers_may_differ_in_their_last_digits(archivist, archive):
    def nudge(document):
        document["pairs"][0]["difference"] *= 1 + 4e-13
        document["method"]["versions"]["numpy"] = "1.0"

    moved = elsewhere(changed_analysis(archive, nudge), machine={"system": "another"})
    found = archivist.replay(moved)
    assert (found["agrees"], found["same_bytes"], found["same_bytes_expected"]) == (True, False, False)
    here = archivist.replay(changed_analysis(archive, nudge))
    assert (here["agrees"], here["same_bytes_expected"]) == (False, True)


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        (lambda d: d["verdict"].update(outcome="within noise"), "#/verdict/outcome"),
        (
            lambda d: d["pairs"][1].update(difference=d["pairs"][1]["difference"] + 1e-9),
            "#/pairs/1/difference",
        ),
        (lambda d: d["verdict"].update(rounds_done=5), "#/verdict/rounds_done"),
        (lambda d: d["verdict"].pop("winner"), "#/verdict/winner"),
        (lambda d: d["elements"].pop(), "#/elements/2"),
        (lambda d: d["verdict"].update(statement="otherwise"), "#/verdict/statement"),
    ],
)
def test_what_differs_is_listed_with_then_and_now(archivist, archive, change, pointer):
    found = archivist.replay(elsewhere(changed_analysis(archive, change), machine={}))
    assert not found["agrees"]
    assert [entry["pointer"] for entry in found["differences"]] == [pointer]


def test_another_version_of_the_program_may_word_it_otherwise(archivist, archive):
    reworded = changed_analysis(archive, lambda d: d["verdict"].update(statement="otherwise"))
    versions = json.loads(members_of(archive)["archive.json"])["versions"] | {"aerial-assay": "0.0.1"}
    assert archivist.replay(elsewhere(reworded, versions=versions))["agrees"]


def test_other_readings_give_another_verdict_and_not_the_archived_one(archivist, archive):
    entries = json.loads(members_of(archive)["batches.json"])
    names = entries[0]["names"]["element"]
    entries[0]["names"]["element"] = [names[1], names[0], *names[2:]]
    found = archivist.replay(forged(archive, batches_json=json.dumps(entries).encode()))
    assert not found["agrees"]
    assert len(found["differences"]) <= replay.MOST_DIFFERENCES


def test_flips_and_truncations_never_pass_for_another_verdict(archive, capsys):
    """What opens at all holds every member as it was, so the verdict reached from it is the right one."""
    dice = random.Random(20261125)
    whole = unzipped(archive, most_bytes=MOST)
    refusals = harmless = 0
    for number in range(FLIPS + TRUNCATIONS):
        body = bytearray(archive)
        if number < FLIPS:
            body[dice.randrange(len(body))] ^= 1 << dice.randrange(8)
        else:
            del body[dice.randrange(len(body)) :]
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", UserWarning)  # the library's about names given twice
            try:
                found = unzipped(bytes(body), most_bytes=MOST)
            except (BadInput, TooLarge):
                refusals += 1
                continue
        assert found == whole
        harmless += 1
    with capsys.disabled():
        print(f"\n{FLIPS} flips, {TRUNCATIONS} truncations: {refusals} refused, {harmless} harmless, 0 wrong")
    assert refusals > FLIPS // 2
    assert harmless > 0


@pytest.mark.parametrize(
    "name",
    ["../trial.json", "/trial.json", "batches/../trial.json", "batches\\0001.body", "C:trial.json", "x/"],
)
def test_names_that_no_archive_has_are_refused(archive, name):
    entries = [*members_of(archive).items(), (name, b"")]
    with pytest.raises(BadInput) as caught:
        unzipped(raw_zip(entries), most_bytes=MOST)
    assert "is none that an archive of a trial has" in caught.value.faults[0].detail


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_two_members_of_one_name_are_refused(archive):
    entries = [*members_of(archive).items(), ("trial.json", b"{}")]
    with pytest.raises(BadInput) as caught:
        unzipped(raw_zip(entries), most_bytes=MOST)
    assert "two members of one name" in caught.value.faults[0].detail


def test_sizes_are_summed_before_anything_is_unpacked(monkeypatch):
    import zipfile

    monkeypatch.setattr(zipfile.ZipFile, "read", lambda *_: pytest.fail("unpacked"))
    bomb = raw_zip([("trial.json", bytes(60_000)), ("readings.csv", bytes(60_000))])
    with pytest.raises(TooLarge, match="unpacks to 120000 bytes, and at most 100000"):
        unzipped(bomb, most_bytes=100_000)


@pytest.mark.parametrize("name", REQUIRED)
def test_a_member_that_is_missing_is_named(archive, name):
    members = members_of(archive)
    del members[name]
    with pytest.raises(BadInput) as caught:
        unzipped(raw_zip(list(members.items())), most_bytes=MOST)
    assert name in caught.value.faults[0].detail


@pytest.mark.parametrize("sums", [b"", b"abc", b"0" * 64 + b"  trial.json\n"])
def test_a_list_of_digests_that_lists_something_else_is_refused(archive, sums):
    members = members_of(archive)
    assert unzipped(raw_zip(list(members.items())), most_bytes=MOST) == unzipped(archive, most_bytes=MOST)
    with pytest.raises(BadInput) as caught:
        unzipped(raw_zip(list((members | {DIGESTS: sums}).items())), most_bytes=MOST)
    assert f"{DIGESTS} does not list" in caught.value.faults[0].detail


def test_a_member_that_was_changed_is_named_by_its_digest(archive):
    members = members_of(archive)
    members["trial.json"] = members["trial.json"].replace(b"Invented", b"Real")
    with pytest.raises(BadInput) as caught:
        unzipped(raw_zip(list(members.items())), most_bytes=MOST)
    assert "trial.json is not what was archived" in caught.value.faults[0].detail


def npz(**arrays) -> bytes:
    file = io.BytesIO()
    np.savez_compressed(file, **arrays)
    return zlib.compress(file.getvalue())


def with_column(archive: bytes, name: str, values) -> bytes:
    packed = members_of(archive)["batches/0001.columns"]
    arrays = dict(np.load(io.BytesIO(zlib.decompress(packed))))
    return npz(**{key: array for key, array in arrays.items() if not key.startswith(name)}, **{name: values})


@pytest.mark.parametrize(
    "columns",
    [
        pytest.param(lambda _: b"no npz", id="not packed"),
        pytest.param(lambda _: zlib.compress(b"no npz"), id="no npz"),
        pytest.param(lambda _: npz(value=np.zeros(3)), id="columns missing"),
        pytest.param(lambda a: with_column(a, "element", np.full(27, 99)), id="a code without a name"),
        pytest.param(lambda a: with_column(a, "element", np.full(27, -2)), id="a negative code"),
        pytest.param(lambda a: with_column(a, "value", np.full(27, np.inf)), id="an infinity"),
        pytest.param(lambda a: with_column(a, "round", np.zeros(5, dtype=int)), id="another length"),
        pytest.param(lambda a: with_column(a, "row", np.array([{}] * 27)), id="pickled objects"),
    ],
)
def test_readings_that_this_program_does_not_pack_are_refused(archivist, archive, columns):
    with pytest.raises(BadInput) as caught:
        archivist.replay(forged(archive, batches__0001_columns=columns(archive)))
    assert "batch 1 are not what this program archives" in caught.value.faults[0].detail


def test_readings_that_unpack_beyond_the_limit_are_refused_before_they_are_unpacked(archivist, archive):
    huge = forged(archive, batches__0001_columns=with_column(archive, "value", np.zeros(100_000)))
    with pytest.raises(TooLarge, match="unpacks to 8"):
        archivist.replay(huge, limits=Limits(archive_bytes=400_000))


@pytest.mark.parametrize(
    "members",
    [
        {"archive_json": b"[]"},
        {"archive_json": b'{"format": "archive/2"}'},
        {"archive_json": b"{"},
        {"history_json": b"{}"},
        {"history_json": b'{"first_plan": {"margin": 1}, "changes": []}'},
        {"batches_json": b"{}"},
        {"batches_json": b'[{"number": 9}]'},
        {"batches__0001_body": None},
        {"trial_json": b'{"meter": {"unit": "feet"}}'},
        {"trial_json": b"NaN"},
        {"analysis_json": b"NaN"},
    ],
)
def test_documents_that_this_program_would_not_have_archived_are_refused(archivist, archive, members):
    with pytest.raises(ServiceError) as caught:
        archivist.replay(forged(archive, **members))
    assert 400 <= caught.value.status < 500


def test_a_trial_too_large_to_be_read_again_is_not_archived(archivist, monkeypatch):
    monkeypatch.setattr(archivist.desk, "_limits", Limits(archive_bytes=2_000))
    with pytest.raises(TooLarge, match="at most"):
        archivist.archive()


def test_the_machine_is_told_by_what_moves_the_last_digit(monkeypatch, tmp_path):
    cpu = tmp_path / "cpuinfo"
    cpu.write_text("processor : 0\nmodel name : Fast One\nmodel name : Fast One\n")
    monkeypatch.setattr(archived_trial, "CPU", cpu)
    assert archived_trial.machine_here()["processor"] == ["Fast One"]
    cpu.unlink()
    assert len(archived_trial.machine_here()["processor"]) == 1
