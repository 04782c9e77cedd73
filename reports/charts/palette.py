"""The colours of pictures: ink and copper on paper. Nothing is told by colour alone.

`styles/palette.css` holds the same values for pages; a test compares them and their contrast.
"""

from typing import Final

PAPER: Final = "#ffffff"
INK: Final = "#1d262b"
QUIET: Final = "#4f5b61"
RULE: Final = "#c9ccc8"
COPPER: Final = "#8a4a1c"
BAND: Final = "#efe4d3"
HATCH: Final = "#9a7b4f"
TILE_LOW: Final = "#ffffff"
TILE_HIGH: Final = "#dcae80"
LINES: Final = ("#8a4a1c", "#1d5a6b", "#1d262b", "#6b5a00", "#5a3d7a", "#2f6b3a", "#9a2f4f", "#4f5b61")
