"""The changes still fit the code: each can be made, and leaves a module that Python takes."""

from pathlib import Path

import pytest

from service import statistics
from tests.mutants.changes import CHANGES, Change

FOLDER = Path(str(statistics.__file__)).parent


def test_each_change_fits_the_code_and_changes_it():
    for change in CHANGES:
        text = (FOLDER / f"{change.module}.py").read_text(encoding="utf-8")
        changed = change.applied(text)
        assert changed != text, change
        compile(changed, change.module, "exec")


def test_a_change_that_does_not_fit_is_told():
    with pytest.raises(ValueError, match="stands 2 times in leader"):
        Change("leader", "one", "two").applied("one and one")
