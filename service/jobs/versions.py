"""The versions that a verdict depends on, without loading the libraries themselves."""

import platform
from collections.abc import Mapping
from importlib import metadata

PROGRAM = "aerial-assay"
LIBRARIES = ("numpy", "scipy")
NOT_INSTALLED = "not installed"


def versions_here() -> Mapping[str, str]:
    """What the field `versions` of an analysis document made by this program holds."""
    libraries = {name: metadata.version(name) for name in LIBRARIES}
    return {PROGRAM: program_version(), "python": platform.python_version()} | libraries


def program_version() -> str:
    """The version of this program; a source tree that was never installed has none."""
    try:
        return metadata.version(PROGRAM)
    except metadata.PackageNotFoundError:
        return NOT_INSTALLED
