"""Draws the measured error rates for the README: python -m tests.calibration.write_picture."""

from pathlib import Path

from reports import charts
from reports.charts.pictures import Picture
from reports.error_rates import error_rates
from reports.view.error_rates import figure
from reports.view.model import Image

PICTURE = Path(__file__).parents[2] / "openapi" / "examples" / "error-rates.svg"
WIDTH = 170.0


def main() -> None:
    """Draw with letters as outlines, so that every reader shows it alike."""

    def draw(picture: Picture) -> Image:
        PICTURE.write_bytes(charts.svg(picture, width=WIDTH, text_as="outlines"))
        return Image("", ())

    figure(error_rates(), draw)


if __name__ == "__main__":
    main()
