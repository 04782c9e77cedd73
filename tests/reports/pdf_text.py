"""The text of a PDF: page by page through the fonts' own ToUnicode tables, or whole as poppler reads it."""

import io
import re
import subprocess

import pikepdf

_PAIR = re.compile(rb"<([0-9a-fA-F]+)>\s+<([0-9a-fA-F]+)>\s*\n")


def pages_of(pdf: bytes) -> list[str]:
    """The text of each page, white space collapsed; text in pictures included."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [" ".join(_text_of(page.obj, page.obj["/Resources"]).split()) for page in opened.pages]


def printed(pdf: bytes, *, layout: bool = False) -> str:
    """Its text as poppler reads it; white space collapsed unless the layout is wanted."""
    command = ["pdftotext", *(["-layout"] if layout else []), "-", "-"]
    text = subprocess.run(command, input=pdf, capture_output=True, check=True).stdout.decode()
    return text if layout else " ".join(text.split())


def _text_of(stream: pikepdf.Object, resources: pikepdf.Object) -> str:
    fonts = {name: _letters(font) for name, font in resources.get("/Font", {}).items()}
    words, letters = [], {}
    for operands, operator in pikepdf.parse_content_stream(stream):
        name = str(operator)
        if name == "Tf":
            letters = fonts[str(operands[0])]
        elif name in {"Tj", "TJ"}:
            words.append(_decoded(operands[0], letters))
        elif name in {"ET", "Td", "Tm"}:
            words.append(" ")
        elif name == "Do":
            words.append(_inside(resources["/XObject"][str(operands[0])]))
    return "".join(words)


def _inside(drawn: pikepdf.Object) -> str:
    return f" {_text_of(drawn, drawn['/Resources'])} " if drawn.get("/Subtype") == "/Form" else ""


def _decoded(shown: pikepdf.Object, letters: dict[int, str]) -> str:
    parts = shown if isinstance(shown, pikepdf.Array) else [shown]
    raw = b"".join(bytes(part) for part in parts if isinstance(part, pikepdf.String))
    return "".join(letters[int.from_bytes(raw[at : at + 2], "big")] for at in range(0, len(raw), 2))


def _letters(font: pikepdf.Object) -> dict[int, str]:
    table = font["/ToUnicode"].read_bytes()
    found = re.search(rb"beginbfchar(.*)endbfchar", table, re.DOTALL)
    pairs = _PAIR.findall(found.group(1)) if found else []
    return {int(code, 16): bytes.fromhex(text.decode()).decode("utf-16-be") for code, text in pairs}
