"""Writes openapi/openapi.json: `python -m tests.api.write_specification`."""

from pathlib import Path

from service.api.specification import specification_text
from service.app import create_app

TARGET = Path(__file__).parents[2] / "openapi" / "openapi.json"

if __name__ == "__main__":
    TARGET.write_text(specification_text(create_app()), encoding="utf-8")
