"""What the README tells a newcomer to type works, and what it shows as an answer is the answer."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from reports.error_rates import error_rates as measured_rates
from reports.wording import error_rates
from reports.wording.speech import speech_of

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
NOT_COPIED = shutil.ignore_patterns(
    ".git", ".venv", "__pycache__", "*.egg-info", ".*_cache", ".hypothesis", "demo.html", "demo.pdf"
)


def blocks() -> list[tuple[str, str]]:
    """The fenced blocks of the README in order: language and text."""
    found = re.findall(r"^```(\w*)\n(.*?)^```$", README.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL)
    assert len(found) >= 4
    return found


def block(start: str) -> str:
    """The one block whose text begins so."""
    (text,) = (text for _, text in blocks() if text.startswith(start))
    return text


def may_install() -> bool:
    """Whether system packages can be installed without a question being asked."""
    if os.geteuid() == 0:
        return True
    return bool(shutil.which("sudo")) and subprocess.run(["sudo", "-n", "true"], check=False).returncode == 0


def registry_is_reached(folder: Path) -> bool:
    """Whether one small package that the project depends on can be fetched afresh."""
    command = [sys.executable, "-m", "pip", "download", "--no-deps", "--no-cache-dir", "-d", folder, "click"]
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


@pytest.mark.parametrize("number", [0, 1])
def test_the_two_commands_are_shell(number):
    language, text = blocks()[number]
    assert language == "bash"
    subprocess.run(["bash", "-n"], input=text, text=True, check=True)


def test_ci_runs_exactly_the_second_command(tmp_path):
    """`.ci/run` is run with a `bash` that only writes down what it is given."""
    noted = tmp_path / "noted"
    stand_in = tmp_path / "bash"
    stand_in.write_text(f'#!/bin/sh\nprintf "%s\\n" "$#" "$1" "$2" > "{noted}"\n')
    stand_in.chmod(0o755)
    path = f"{tmp_path}{os.pathsep}{os.environ['PATH']}"
    subprocess.run([shutil.which("bash"), ROOT / ".ci" / "run"], env={"PATH": path}, check=True, cwd=tmp_path)
    assert noted.read_text() == "2\n-c\n" + blocks()[1][1]


def test_the_workflow_runs_what_ci_runs():
    workflow = (ROOT / ".github" / "workflows" / "ci.yml").read_text(encoding="utf-8")
    jobs = workflow.split("\n  statistics-alone:")
    assert re.findall(r"run: (.*)", jobs[0]) == ["bash .ci/run"]
    assert "install numpy scipy pytest hypothesis" in jobs[1]


def test_the_first_command_works_in_a_clean_copy(tmp_path):
    """What no newcomer sees is left out: pip compiles nothing that is never loaded, and keeps no copies."""
    if not (may_install() and registry_is_reached(tmp_path / "probe")):
        pytest.skip("needs the package registries and the right to install system packages")
    copy = tmp_path / "copy"
    shutil.copytree(ROOT, copy, ignore=NOT_COPIED)
    done = subprocess.run(
        ["bash", "-c", blocks()[0][1]],
        cwd=copy, env={**os.environ, "HOME": str(tmp_path), "PIP_COMPILE": "0", "PIP_NO_CACHE_DIR": "1"},
        stdin=subprocess.DEVNULL,
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-2000:] + done.stderr[-2000:]
    (told,) = re.findall(r"^Verdict: (.*)$", done.stdout, re.MULTILINE)[:1] or [""]
    assert told in {"clear winner", "within noise", "needs more runs"}
    assert (copy / "demo.pdf").read_bytes().startswith(b"%PDF-")
    assert "<html" in (copy / "demo.html").read_text(encoding="utf-8")[:500]


def test_the_request_shown_gets_the_answer_shown(server):
    command = re.sub(r"http://127\.0\.0\.1:\d+", server, block("curl "))
    assert server in command
    done = subprocess.run(["bash", "-c", command], cwd=ROOT, capture_output=True, text=True, check=True)
    answer = json.loads(done.stdout)
    (shown,) = (json.loads(text) for language, text in blocks() if language == "json")
    assert shown["verdict"]["outcome"]
    assert_is_part_of(shown, answer, "answer")


def assert_is_part_of(shown: object, answer: object, place: str) -> None:
    """Every field shown stands in the answer with that value; numbers agree to 9 digits."""
    if isinstance(shown, dict):
        assert shown.keys() <= answer.keys(), place
        for name, value in shown.items():
            assert_is_part_of(value, answer[name], f"{place}.{name}")
    elif isinstance(shown, list):
        assert len(shown) == len(answer), place
        for number, value in enumerate(shown):
            assert_is_part_of(value, answer[number], f"{place}[{number}]")
    elif isinstance(shown, float):
        assert answer == pytest.approx(shown, rel=1e-9), place
    else:
        assert shown == answer, place


def test_the_comparison_sees_a_wrong_number_and_a_missing_field():
    for shown in ({"a": 1.001}, {"b": 1}, {"a": [1]}):
        with pytest.raises((AssertionError, TypeError)):
            assert_is_part_of(shown, {"a": 1.0}, "answer")


def test_developers_find_their_page():
    assert "](DEVELOPERS.md)" in README.read_text(encoding="utf-8")


def test_the_error_rates_told_are_those_measured():
    document = json.loads((ROOT / "tests/golden/wide.csv.document.json").read_text(encoding="utf-8"))
    sentences = error_rates.sentences(speech_of(document), measured_rates())
    told = " ".join(README.read_text(encoding="utf-8").split())
    assert sentences[1] in told
    assert sentences[2] in told
