"""How grave a caution is: in words, and which comes first."""

from collections.abc import Sequence
from typing import Final

from reports.document import Entry
from reports.language import marked

SEVERITIES: Final = {"stop": marked("Stop"), "warning": marked("Warning"), "note": marked("Note")}
"""What each is called, the gravest first; `say`d where it is shown."""
_GRAVEST_FIRST: Final = tuple(SEVERITIES)


def gravest_first(cautions: Sequence[Entry]) -> list[Entry]:
    """The cautions, those that stop first; of one severity in their order."""
    return sorted(cautions, key=lambda entry: _GRAVEST_FIRST.index(entry["severity"]))
