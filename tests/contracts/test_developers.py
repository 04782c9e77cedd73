"""DEVELOPERS.md speaks of files and folders that are there."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
QUOTED = re.findall(r"`([^`\n]+)`", re.sub(r"\s*\n\s*", " ", PAGE))
ROOMS = [ROOT / "service", *(path for path in (ROOT / "service").iterdir() if path.is_dir())]
TESTS = [path for path in (ROOT / "tests").iterdir() if path.is_dir()]
PLACES = (ROOT, *ROOMS, ROOT / "reports", *TESTS)
ENDINGS = "py|md|toml|json|css|js|html"
FILES = sorted({text for text in QUOTED if re.fullmatch(rf"\.?[\w./-]+\.(?:{ENDINGS})", text)})
FOLDERS = sorted({text for text in QUOTED if re.fullmatch(r"(?:[a-z_]+/)+[a-z_]*/?", text)})
MADE_BY_COMMANDS = {"sbom.json"}


def is_there(name: str) -> bool:
    return any((place / name).exists() for place in PLACES)


def test_the_page_is_read():
    assert min(len(FILES), len(FOLDERS)) > 15


@pytest.mark.parametrize("name", FILES)
def test_every_file_that_is_named_is_there(name):
    assert is_there(name) or name in MADE_BY_COMMANDS


@pytest.mark.parametrize("name", FOLDERS)
def test_every_folder_or_module_that_is_named_is_there(name):
    assert is_there(name) or is_there(f"{name}.py")
