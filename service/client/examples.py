"""The demo data: it travels in the package, and lies beside it in the source tree."""

from pathlib import Path

ROOM = Path(__file__).parent.parent


def examples_folder() -> Path:
    """The folder of the examples. Raises FileNotFoundError where neither place has one."""
    for place in (ROOM / "openapi", ROOM.parent / "openapi"):
        if (place / "examples").is_dir():
            return place / "examples"
    raise FileNotFoundError("The examples are missing from this installation.")
