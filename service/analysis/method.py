"""The part of the document that says how it was made, so that it can be made again."""

import platform
from importlib import metadata

import numpy
import scipy

from service.analysis.facts import Facts
from service.analysis.plain_numbers import number
from service.statistics.crossed_bootstrap import RESAMPLES, too_few

PROGRAM = "aerial-assay"
NOT_INSTALLED = "not installed"


def method(facts: Facts) -> dict[str, object]:
    """Seed, draws, critical values of the present look, design and versions."""
    judgement = facts.judgement
    drawn = any(interval is not None for interval in facts.bootstraps)
    version = _program_version()
    return {
        "seed": facts.trial.seed,
        "permutations": judgement.permutations,
        "enumerated": judgement.enumerated,
        "resamples": RESAMPLES if drawn else 0,
        "no_bootstrap": None if drawn else too_few(facts.rounds_done, len(facts.table.rf_channels)),
        "unit": "round",
        "design": judgement.design,
        "critical": {
            "shuffled": number(judgement.critical.shuffled),
            "bell_shaped": number(judgement.critical.bell_shaped),
            "leader": number(judgement.critical.leader),
        },
        "draws": {"bell_shaped": judgement.bell_draws, "shuffled": judgement.permutations},
        "version": version,
        "versions": {
            PROGRAM: version,
            "python": platform.python_version(),
            "numpy": numpy.__version__,
            "scipy": scipy.__version__,
        },
        "order_seed": None,
    }


def _program_version() -> str:
    """The version of the installed program; a source tree that was never installed has none."""
    try:
        return metadata.version(PROGRAM)
    except metadata.PackageNotFoundError:
        return NOT_INSTALLED
