"""The reports on two elements from an interpreter of its own: another hash seed, time zone and folder."""

import json
import os
import subprocess
import sys
from base64 import b64decode
from pathlib import Path

import reports
from tests.reports.made_once import made_once

SCRIPT = """
import base64, json, sys
import reports, reports.wording, reports.text, reports.html, reports.pdf
heavy = "jinja2", "matplotlib", "matplotlib.pyplot", "weasyprint"
def loaded():
    return [name for name in heavy if name in sys.modules]
before = loaded()
from tests.reports import sample_documents
made = {form: reports.render(sample_documents.two_elements(), form) for form in ("html", "pdf")}
packed = {form: base64.b64encode(content).decode() for form, content in made.items()}
print(json.dumps({"before": before, "after": loaded(), "reports": packed}))
"""


def _told() -> bytes:
    seed = "2" if os.environ.get("PYTHONHASHSEED") == "1" else "1"
    root = str(Path(reports.__file__).parents[1])
    environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": "UTC5", "PYTHONPATH": root}
    command = [sys.executable, "-c", SCRIPT]
    return subprocess.run(command, cwd="/", env=environment, capture_output=True, check=True).stdout


def report(form: str) -> bytes:
    """The report in that form, html or pdf."""
    return b64decode(_read()["reports"][form])


def loaded(when: str) -> list[str]:
    """Which of the heavy libraries were loaded "before" and "after" anything was rendered."""
    return _read()[when]


def _read() -> dict:
    return json.loads(made_once("elsewhere", make=_told))
