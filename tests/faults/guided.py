"""Bodies guided by what they reach in the code, for one parser, until something breaks.

pip install atheris
python -m tests.faults.guided csv -runs=200000      the options behind the name are those of libFuzzer
"""

import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["service.intake", "service.trial", "service.api.bodies"]):
    from service.errors import ServiceError
    from tests.faults.parsers import Parser, parsers


def chosen(name: str) -> Parser:
    """The parser of that name. Raises SystemExit."""
    every = {parser.name: parser for parser in parsers()}
    if name not in every:
        raise SystemExit(f"There is no parser {name}; there are {', '.join(every)}.")
    return every[name]


def main() -> None:
    """Feed it."""
    parser = chosen(sys.argv[1] if len(sys.argv) > 1 else "")

    def feed(body: bytes) -> None:
        try:
            parser.read(body)
        except ServiceError as refusal:
            if refusal.status >= 500:
                raise

    with tempfile.TemporaryDirectory(prefix="assay-guided-") as corpus:
        for number, seed in enumerate(parser.seeds):
            (Path(corpus) / str(number)).write_bytes(seed)
        atheris.Setup([sys.argv[0], *sys.argv[2:], corpus], feed)
        atheris.Fuzz()


if __name__ == "__main__":
    main()
