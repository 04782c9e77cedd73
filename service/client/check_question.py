"""What `check` asks: readings in files, or elements of kept trials, as one request."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from service.client.packages import JSON, Package, package_files
from service.client.trouble import Trouble

IN_BODY = ("baseline", "candidate", "samples", "reference", "margin")
"""Options that a question about kept trials has in its body, and one about files in its query."""
CALLED = {
    "#/baseline/trial": "--baseline-trial",
    "#/baseline/name": "--baseline-name",
    "#/baseline": "--baseline",
    "#/candidates": "--candidate",
    "#/reference": "--reference",
    "#/margin": "--margin",
}
"""What the places of a question about kept trials are on the command line, the narrower first."""
KEPT_OPTIONS = ("baseline_trial", "baseline_name", "candidate_trial")
WANTED = (
    "Give FILE; or kept trials: --baseline-trial TRIAL --baseline ELEMENT, or --baseline-name NAME, and "
    "--candidate-trial TRIAL --candidate ELEMENT."
)


@dataclass(frozen=True)
class KeptTrials:
    """The options that speak of kept trials, None where one is not given."""

    baseline_trial: str | None
    baseline_name: str | None
    candidate_trial: str | None

    @property
    def given(self) -> bool:
        """Whether any of them is."""
        return any((self.baseline_trial, self.baseline_name, self.candidate_trial))


def question(
    files: Sequence[Path], trial: Path | None, kept: KeptTrials, *, fields: Mapping[str, Any]
) -> tuple[Package, dict[str, Any]]:
    """The package and the query of a check; `fields` are the other options that were given.

    Raises Trouble for files that cannot be read, and where files and kept trials are mixed or both missing.
    """
    if not kept.given:
        if not files:
            raise Trouble(WANTED)
        return package_files(files, trial), dict(fields)
    if files or trial is not None:
        raise Trouble("A check is on the readings in files or on kept trials. Leave one of them out.")
    body = json.dumps(_body(kept, fields), ensure_ascii=False).encode()
    return Package(body, JSON, called=CALLED), {
        name: value for name, value in fields.items() if name not in IN_BODY
    }


def _body(kept: KeptTrials, fields: Mapping[str, Any]) -> dict[str, Any]:
    trial = kept.candidate_trial or kept.baseline_trial
    if trial is None:
        raise Trouble("Say in which trial the candidates were run: --candidate-trial TRIAL.")
    designs = [*fields.get("candidate", ()), *(names.split(",") for names in fields.get("samples", ()))]
    body: dict[str, Any] = {
        "baseline": _baseline(kept, fields.get("baseline")),
        "candidates": [{"trial": trial, "element": design} for design in designs],
    }
    if "reference" in fields:
        body["reference"] = fields["reference"]
    if "margin" in fields:
        body["margin"] = _number(fields["margin"])
    return body


def _baseline(kept: KeptTrials, element: str | None) -> dict[str, Any]:
    if kept.baseline_name is not None:
        if kept.baseline_trial is not None or element is not None:
            raise Trouble("--baseline-name stands for trial and element. Leave the other two out, or it.")
        return {"name": kept.baseline_name}
    if kept.baseline_trial is None:
        raise Trouble(
            "Say what the candidates are held against: --baseline-trial TRIAL --baseline ELEMENT, or "
            "--baseline-name NAME."
        )
    return {"trial": kept.baseline_trial, "element": element}


def _number(text: str) -> float | str:
    """The number, or the text itself where it is none: the service says what is wrong with it."""
    try:
        number = float(text)
    except ValueError:
        return text
    return number if number - number == 0.0 else text
