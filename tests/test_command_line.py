"""The command as it is installed: what it costs to start, how it ends, and real verdicts."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from service import __main__ as command_line
from service.client.trouble import Trouble
from tests.command_here import run_here

ROOT = Path(__file__).parents[1]
EXAMPLES = ROOT / "openapi" / "examples"
OUTCOMES = ("clear winner", "within noise", "needs more runs")


def run(*arguments: object, folder: Path = ROOT, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "service", *map(str, arguments)],
        cwd=folder, env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
        capture_output=True, text=True, check=False,
    )  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("somewhere")


@pytest.mark.parametrize("arguments", [[], *([name] for name in command_line.command.commands)], ids=str)
def test_help_has_one_worked_example_that_the_command_takes(arguments):
    text = run_here(*arguments, "--help", folder=ROOT).stdout
    (example,) = re.findall(r"Example:\n +aerial-assay (.+)\n", text)
    name, *options = example.split()
    context = command_line.command.get_command(None, name).make_context(name, options)
    assert name == (arguments or ["verdict"])[0]
    assert context.params.keys() >= {
        option.name for option in context.command.params if option.name != "help"
    }


def test_help_imports_click_and_no_other_package():
    code = (
        "import sys; sys.argv[1:] = ['verdict', '--help']; from service.__main__ import main\n"
        "try: main()\n"
        "except SystemExit: print(*{name.split('.')[0] for name in sys.modules}, file=sys.stderr)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    standard = sys.stdlib_module_names | {"sitecustomize", "__mp_main__"}
    foreign = {name for name in done.stderr.split() if name not in standard and not name.startswith("_")}
    assert foreign == {"click", "service"}


def test_a_usual_verdict_waits_for_no_library_that_it_can_do_without():
    """Two large parts of scipy are needed by rare trials alone; they double the time of the command."""
    code = (
        "import sys; sys.argv[1:] = ['verdict', 'openapi/examples/wide.csv', '--unit', 'dBuV']\n"
        "from service.__main__ import main\n"
        "try: main()\n"
        "finally: print(*{'.'.join(name.split('.')[:2]) for name in sys.modules}, file=sys.stderr)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, "scipy.special" in done.stderr.split()) == (0, True)
    assert not {"scipy.stats", "scipy.optimize"} & set(done.stderr.split())


@pytest.mark.parametrize(
    ("name", "run"),
    [
        ("wide.csv", run),
        ("spreadsheet.csv", run_here),
        ("readings.ndjson", run_here),
        ("readings.xlsx", run_here),
    ],
)
def test_a_verdict_is_printed_with_no_server_running(folder, name, run):
    done = run("verdict", EXAMPLES / name, "--unit", "dBuV", folder=folder)
    assert (done.returncode, done.stderr) == (0, "")
    assert "\x1b" not in done.stdout
    assert any(outcome in done.stdout for outcome in OUTCOMES)
    assert "copper-loop" in done.stdout


def test_json_is_the_document_and_nothing_else(folder):
    done = run("verdict", EXAMPLES / "verdict-request.json", "--json", folder=folder)
    document = json.loads(done.stdout)
    assert document["format"] == "analysis/1"
    assert document["verdict"]["outcome"] in OUTCOMES
    assert document["verdict"]["statement"]
    assert (done.returncode, done.stderr) == (0, "")


def test_reports_are_left_beside(folder):
    reports = ["--report", "v.html", "--report", "v.pdf"]
    done = run_here("verdict", EXAMPLES / "wide.csv", "--unit", "dBuV", *reports, folder=folder)
    assert (done.returncode, done.stderr) == (0, "")
    assert (folder / "v.html").read_bytes().lower().startswith(b"<!doctype html")
    assert (folder / "v.pdf").read_bytes().startswith(b"%PDF-")


def test_the_demo_runs_anywhere_and_leaves_its_reports(folder):
    done = run_here("demo", folder=folder)
    assert (done.returncode, done.stderr) == (0, "")
    assert "invented" in done.stdout.splitlines()[0]
    assert "after one scan only" in done.stdout
    assert (folder / "demo.html").stat().st_size > 10_000
    assert (folder / "demo.pdf").read_bytes().startswith(b"%PDF-")


def test_every_fault_of_a_file_is_told_with_its_line(folder):
    table = folder / "bad.csv"
    table.write_text("element,round,channel,value\na,1,27,7/10\nb,1,27,5\na,1,28,?\n")
    done = run_here(
        "verdict", table, "--unit", "bars", "--highest", "10", "--confidence", "95", folder=folder
    )
    assert (done.returncode, done.stdout) == (3, "")
    assert "bad.csv line 2" in done.stderr
    assert "7/10" in done.stderr
    assert "bad.csv line 4" in done.stderr
    assert "--confidence" in done.stderr
    assert "0.95" in done.stderr


@pytest.mark.parametrize(
    ("run", "arguments", "said"),
    [
        (run, ["verdict"], "Missing argument"),
        (run_here, ["verdict", "r.csv", "--nonsense"], "No such option"),
        (run_here, ["nonsense"], "No such command"),
        (run_here, ["verdict", "gone.csv"], "cannot be read"),
        (run, ["serve", "--host", "0.0.0.0"], "can be reached from other machines"),  # noqa: S104 (must be refused)
    ],
)
def test_what_cannot_be_done_ends_with_status_3(folder, run, arguments, said):
    done = run(*arguments, folder=folder)
    assert (done.returncode, done.stdout) == (3, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_a_bad_setting_is_named(folder):
    table = ["verdict", EXAMPLES / "wide.csv", "--unit", "dBuV"]
    done = run_here(*table, folder=folder, AERIAL_ASSAY_ROUNDS="none")
    assert (done.returncode, done.stdout) == (3, "")
    assert "AERIAL_ASSAY_ROUNDS='none'" in done.stderr


def test_a_fault_of_the_program_leaves_no_trace_and_no_data(monkeypatch, capsys):
    def broken(**_options):
        raise RuntimeError("secret reading 41.5")

    monkeypatch.setattr(command_line.command, "main", broken)
    with pytest.raises(SystemExit) as ended:
        command_line.main()
    said = capsys.readouterr()
    assert ended.value.code == 3
    assert "RuntimeError" in said.err
    assert "41.5" not in said.err
    assert "Traceback" not in said.err + said.out


def test_trouble_ends_with_status_3(monkeypatch, capsys):
    def troubled(**_options):
        raise Trouble("first", "  second")

    monkeypatch.setattr(command_line.command, "main", troubled)
    with pytest.raises(SystemExit) as ended:
        command_line.main()
    assert ended.value.code == 3
    assert capsys.readouterr().err == "first\n  second\n"


@pytest.mark.parametrize("options", [[], ["--json"]])
def test_the_report_is_left_though_nobody_reads_what_is_printed(tmp_path, options):
    """As when the reader of a pipe has enough of it before its end."""
    reading, writing = os.pipe()
    os.close(reading)
    command = ["verdict", EXAMPLES / "wide.csv", "--unit", "dBuV", "--report", "v.html", *options]
    done = subprocess.run(
        [sys.executable, "-m", "service", *map(str, command)],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)}, stdout=writing, stderr=subprocess.PIPE,
        text=True, check=False,
    )  # fmt: skip
    os.close(writing)
    assert (tmp_path / "v.html").read_text(encoding="utf-8").lower().startswith("<!doctype html>")
    assert "Traceback" not in done.stderr
