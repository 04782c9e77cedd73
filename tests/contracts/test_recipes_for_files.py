"""The recipes that send files: those that cron finds in a folder, and a spreadsheet."""

import json
import os
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.contracts.recipe_service import EXAMPLES, LINES, Service, cells_of


@dataclass
class Cron:
    """The recipe for cron, with a folder."""

    service: Service
    trial: str
    folder: Path

    def put(self, name: str, rounds: range) -> None:
        """Leave a file with some rounds of the example."""
        kept = [line for line in LINES if json.loads(line)["round"] in rounds]
        (self.folder / "new").mkdir(parents=True, exist_ok=True)
        (self.folder / "new" / name).write_text("\n".join([*kept, ""]), encoding="utf-8")

    def run(self) -> tuple[int, list[str], str]:
        """Status, what it says, and what it complains of."""
        environment = {**self.service.environment, "TRIAL": self.trial, "FOLDER": str(self.folder)}
        done = subprocess.run(
            ["sh", EXAMPLES / "cron-verdict.sh"], env=environment, capture_output=True, text=True, check=False
        )
        return done.returncode, done.stdout.splitlines(), done.stderr

    def names(self, folder: str) -> list[str]:
        return sorted(path.name for path in (self.folder / folder).iterdir())


@pytest.fixture
def cron(service, tmp_path):
    service.start()
    return Cron(service, service.new_trial(), tmp_path / "trial")


def test_cron_speaks_when_the_verdict_has_changed_and_not_else(cron):
    cron.put("a.ndjson", range(1, 4))
    status, said, complained = cron.run()
    assert (status, said[0].strip(), complained) == (0, "needs more runs", "")
    assert cron.run() == (0, [], "")
    cron.put("b.ndjson", range(4, 7))
    status, said, complained = cron.run()
    assert (status, complained) == (0, "")
    assert said[0] == "clear winner copper-loop"
    assert said[1].startswith("copper-loop is better than steel-loop")
    report = said[2].removeprefix("Report: ").replace("form=pdf", "form=json")
    assert cron.service.ask("GET", report)["verdict"]["winner"] == "copper-loop"
    assert cron.run() == (0, [], "")
    assert (cron.names("new"), cron.names("sent")) == ([], ["a.ndjson", "b.ndjson"])
    assert cron.service.cells(cron.trial) == cells_of(LINES)


def test_cron_may_be_cut_off_behind_a_sending(cron):
    cron.put("a.ndjson", range(1, 4))
    cron.run()
    (cron.folder / "sent" / "a.ndjson").rename(cron.folder / "new" / "a.ndjson")
    assert cron.run() == (0, [], "")
    assert cron.names("sent") == ["a.ndjson"]
    assert cron.service.batches(cron.trial) == 1


def test_cron_complains_of_a_file_that_is_not_taken_and_sends_the_others(cron):
    cron.put("b.ndjson", range(1, 4))
    (cron.folder / "new" / "a.csv").write_text("element,round,channel,value\ncopper-loop,9,Pier,?\n")
    for _ in range(2):
        status, _, complained = cron.run()
        assert status == 3
        assert "a.csv was not taken" in complained
        assert '"?"' in complained
    assert (cron.names("new"), cron.names("sent")) == (["a.csv"], ["b.ndjson"])


def test_cron_tells_that_there_is_nothing_to_judge_or_nobody_to_ask(cron, service):
    status, said, complained = cron.run()
    assert (status, said) == (3, [])
    assert "reading" in complained
    service.close()
    status, said, complained = cron.run()
    assert (status, said) == (3, [])
    assert "curl" in complained


def posted(server: str, file: Path, report: Path) -> subprocess.CompletedProcess[str]:
    command = ["sh", EXAMPLES / "post-spreadsheet.sh", file, report]
    environment = {**os.environ, "SERVER": server}
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=False)


def test_a_spreadsheet_is_posted_and_its_report_left(server, tmp_path):
    done = posted(server, EXAMPLES / "readings.xlsx", tmp_path / "verdict.pdf")
    assert (done.returncode, done.stderr) == (0, "")
    assert (tmp_path / "verdict.pdf").read_bytes().startswith(b"%PDF-")


def test_what_is_wrong_with_a_file_is_told_and_no_report_left(server, tmp_path):
    done = posted(server, EXAMPLES / "readings.ndjson", tmp_path / "verdict.pdf")
    assert done.returncode == 3
    assert '"status":4' in done.stderr.replace(" ", "")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("given", "server"),
    [(["a.xlsx"], "http://127.0.0.1:9"), ([], "http://127.0.0.1:9"), (["a.xlsx", "b.pdf"], "")],
)
def test_a_spreadsheet_alone_or_without_a_service_is_told_what_is_wanted(given, server, tmp_path):
    command = ["sh", EXAMPLES / "post-spreadsheet.sh", *given]
    environment = {**os.environ, "SERVER": server}
    done = subprocess.run(command, env=environment, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (3, "")
    assert done.stderr.startswith(
        "Give the spreadsheet and the file for the report, and where the service is:\n"
    )


def test_every_recipe_is_listed_and_every_one_listed_is_there():
    page = (EXAMPLES / "recipes.md").read_text(encoding="utf-8")
    listed = re.findall(r"^\| \[([\w.-]+)\]\(\1\)", page, re.MULTILINE)
    recipes = {path.name for path in EXAMPLES.iterdir() if path.suffix in {".py", ".sh", ".yml"}}
    assert set(listed) == recipes
    assert len(listed) == len(recipes) == 6
