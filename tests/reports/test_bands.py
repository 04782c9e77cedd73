"""Band by band and headroom: printed where the document holds them, and nothing else made of them."""

from reports.html import BOUNDS
from reports.view import bands
from reports.wording.speech import speech_of
from tests.reports import sample_documents as samples

BANDS = [
    {"band": "VHF-high", "rf_channels": ["6", "7"], "shift": 0.5},
    {"band": "UHF", "rf_channels": ["27"], "shift": -0.5},
]


def with_bands():
    full = samples.db_meter()
    full["bands"] = [
        {
            "band": band["band"],
            "rf_channels": band["rf_channels"],
            "pairs": [
                {
                    "first": pair["first"],
                    "second": pair["second"],
                    "difference": band["shift"],
                    "interval": {
                        "low": band["shift"] - 1,
                        "high": band["shift"] + 1,
                        "level": 0.95,
                        "method": "t",
                    },
                }
                for pair in full["pairs"]
            ],
        }
        for band in BANDS
    ]
    return full


def with_headroom():
    full = samples.db_meter()
    ids = [entry["id"] for entry in full["elements"]]
    full["reception"]["headroom"] = [
        {
            "rf_channel": "27",
            "elements": [
                {"element": name, "level": value, "headroom": None if value is None else value - 45.0}
                for name, value in zip(ids, (48.26, 44.0, None), strict=True)
            ],
        }
    ]
    return full


def test_neither_is_printed_where_the_document_does_not_hold_it():
    assert bands.sections(speech_of(samples.six_elements()), BOUNDS) == ()


def test_one_band_is_the_whole_trial_and_no_section():
    document = with_bands()
    del document["bands"][1]
    assert bands.sections(speech_of(document), BOUNDS) == ()


def test_each_pair_stands_with_its_difference_in_every_band():
    (found,) = bands.sections(speech_of(with_bands()), BOUNDS)
    (table,) = found.tables
    assert [column.text for column in table.columns][2:] == ["VHF-high (2 signals)", "UHF (1 signal)"]
    assert [cell.text for cell in table.rows[0].cells][1:] == ["+0.5 (−0.5 to 1.5)", "−0.5 (−1.5 to 0.5)"]
    assert "adjusted for nothing" in table.notes[0]


def test_one_round_prints_the_difference_alone():
    document = with_bands()
    for band in document["bands"]:
        for pair in band["pairs"]:
            pair["interval"] = None
    (found,) = bands.sections(speech_of(document), BOUNDS)
    assert [cell.text for cell in found.tables[0].rows[0].cells][1:] == ["0.5", "−0.5"]


def test_headroom_is_printed_by_signal_and_element_with_its_sign():
    (found,) = bands.sections(speech_of(with_headroom()), BOUNDS)
    assert "Reception needs 45 dBµV" in found.paragraphs[0]
    (row,) = found.tables[0].rows
    assert [cell.text for cell in row.cells] == ["+3.3", "−1.0", "none"]
