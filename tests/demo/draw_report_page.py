"""Draws the first page of the demo's report for the README, by `aerial-assay demo` and poppler's pdftoppm.

python -m tests.demo.draw_report_page openapi/examples/report-page.png
"""

import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

DOTS_PER_INCH = 100


def main() -> None:
    """Write the picture to the file named on the command line."""
    target = Path(sys.argv[1]).resolve().with_suffix("")
    with TemporaryDirectory() as folder:
        subprocess.run(["aerial-assay", "demo"], cwd=folder, check=True, capture_output=True)
        drawing = ["pdftoppm", "-png", "-singlefile", "-r", str(DOTS_PER_INCH), "-l", "1", "demo.pdf"]
        subprocess.run([*drawing, str(target)], cwd=folder, check=True)


if __name__ == "__main__":
    main()
