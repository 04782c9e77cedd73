"""Handbook numbers as they were collected, each with its source and its status, in facts.json.

Statuses: "opened" (the source was read), "secondary" (a table that quotes it), "computed", "memory".
"""

import json
from pathlib import Path
from typing import Any

FACTS: dict[str, Any] = json.loads(Path(__file__).with_name("facts.json").read_text(encoding="utf-8"))
