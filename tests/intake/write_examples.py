"""Writes the small invented trial as other programs save it: `python -m tests.intake.write_examples`.

The readings are those of openapi/examples/verdict-request.json. The workbook is packed without compression
and without times, so that the same bytes come out each time.
"""

import io
import json
import zipfile
from pathlib import Path
from typing import Any

import openpyxl

FOLDER = Path(__file__).parents[2] / "openapi" / "examples"
TITLE = "Two loops on the quay (invented)"
NAMES = ("element", "round", "channel", "rf_channel", "value")
NO_TIME = (1980, 1, 1, 0, 0, 0)
CORE = (
    b'<cp:coreProperties xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties"/>'
)

Row = list[Any]


def small_readings() -> list[dict[str, Any]]:
    """The readings of the small trial."""
    request = json.loads((FOLDER / "verdict-request.json").read_text(encoding="utf-8"))
    return request["readings"]


def spreadsheet_csv() -> bytes:
    """As a spreadsheet of western Europe saves it: semicolons, decimal commas, cp1252, a title, a unit in
    each heading and a row of means."""
    lines = [[TITLE], [], *wide_rows()]
    runs = range(2, len(lines[2]))
    means = [sum(row[run] for row in lines[3:]) / len(lines[3:]) for run in runs]
    lines.append(["Mean", "", *(round(mean, 2) for mean in means)])
    text = "\r\n".join(";".join(map(_with_comma, line)) for line in lines)
    return f"{text}\r\n".encode("cp1252")


def wide_rows() -> list[Row]:
    """A heading in the users' words, then a row a channel."""
    readings = small_readings()
    runs = list(dict.fromkeys((each["element"], each["round"]) for each in readings))
    value = {(each["element"], each["round"], each["channel"]): each["value"] for each in readings}
    rf_channels = {each["channel"]: each["rf_channel"] for each in readings}
    heading = ["Channel", "RF channel", *(f"{element}@{number} (dBµV)" for element, number in runs)]
    rows = [[channel, rf, *(value[(*run, channel)] for run in runs)] for channel, rf in rf_channels.items()]
    return [heading, *rows]


def lines_of_json() -> bytes:
    """As a script logs it: an object a line."""
    return "".join(json.dumps(each, ensure_ascii=False) + "\n" for each in small_readings()).encode()


def workbook() -> bytes:
    """As a workbook: a sheet of notes and a sheet of readings, a title above the heading."""
    book = openpyxl.Workbook()
    book.active.title = "notes"
    book.active.append([f"{TITLE}: everything here is invented."])
    sheet = book.create_sheet("readings")
    for row in ([TITLE], [], ["Element", "Round", "Channel", "RF channel", "Level (dBuV)"]):
        sheet.append(row)
    for each in small_readings():
        sheet.append([each[name] for name in NAMES])
    file = io.BytesIO()
    book.save(file)
    return _without_times(file.getvalue())


def _with_comma(cell: Any) -> str:
    return str(cell).replace(".", ",") if isinstance(cell, float) else str(cell)


def _without_times(body: bytes) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(body)) as old, zipfile.ZipFile(file, "w", zipfile.ZIP_STORED) as new:
        for name in sorted(old.namelist()):
            content = CORE if name == "docProps/core.xml" else old.read(name)
            new.writestr(zipfile.ZipInfo(name, NO_TIME), content)
    return file.getvalue()


EXAMPLES = {"spreadsheet.csv": spreadsheet_csv, "readings.ndjson": lines_of_json, "readings.xlsx": workbook}

if __name__ == "__main__":
    for file_name, content in EXAMPLES.items():
        (FOLDER / file_name).write_bytes(content())
