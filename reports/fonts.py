"""The faces of the reports: those that matplotlib carries, found without importing it.

DejaVu has every sign that a report needs (minus, comparison signs, narrow spaces), which many faces lack, and
its licence lets it be embedded.
"""

from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path


@dataclass(frozen=True)
class Face:
    """One file of a font family."""

    family: str
    weight: str
    file: str


FACES = (
    Face("DejaVu Sans", "normal", "DejaVuSans.ttf"),
    Face("DejaVu Sans", "bold", "DejaVuSans-Bold.ttf"),
    Face("DejaVu Sans Mono", "normal", "DejaVuSansMono.ttf"),
)


@cache
def folder() -> Path:
    """Where the font files lie; FileNotFoundError where matplotlib is not installed."""
    package = find_spec("matplotlib")
    if package is None or package.origin is None:
        raise FileNotFoundError("matplotlib, whose font files the reports use, is not installed")
    return Path(package.origin).parent / "mpl-data" / "fonts" / "ttf"


def regular() -> Path:
    """The face of pictures and running text."""
    return folder() / FACES[0].file


def face_rules() -> str:
    """CSS that names every face by the address of its file."""
    return "\n".join(
        f'@font-face {{ font-family: "{face.family}"; font-weight: {face.weight}; '
        f'src: url("{(folder() / face.file).as_uri()}") }}'
        for face in FACES
    )
