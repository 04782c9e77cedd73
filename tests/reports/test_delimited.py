"""All tables in one CSV: complete, unrounded, read alike by a spreadsheet and by a program, and harmless."""

import csv
import io

import pandas as pd
import pytest

import reports
from tests.reports import sample_documents as samples
from tests.reports.conftest import MAKERS, rendered
from tests.reports.sample_parts import trial_document

HOSTILE = ["=1+1", "+44", "-5", "@SUM(A1)", "\tx", "\rx", "\0x", "'=2", 'say "so", twice', "two\nlines"]


def lines_of(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True))


def tables_of(content: bytes) -> dict[str, pd.DataFrame]:
    """As the documentation tells a program to take it apart."""
    whole = pd.read_csv(io.BytesIO(content), header=None, dtype=str, keep_default_na=False)
    return {name: headed(part) for name, part in whole.groupby(0, sort=False)}


def headed(part: pd.DataFrame) -> pd.DataFrame:
    rows = part.iloc[1:, 1:].set_axis(list(part.iloc[0, 1:]), axis=1)
    return rows.loc[:, [name for name in rows.columns if name]].reset_index(drop=True)


def test_every_line_has_as_many_fields_and_begins_with_its_table(sample_name):
    content = rendered(sample_name, "csv")
    lines = lines_of(content)
    assert content.startswith(b"\xef\xbb\xbffacts,fact,value")
    assert content.count(b"\r\n") == content.count(b"\n") == len(lines)
    assert {len(line) for line in lines} == {max(len(line) for line in lines)}
    names = [line[0] for line in lines]
    assert all(names)
    blocks = [name for place, name in enumerate(names) if place == 0 or names[place - 1] != name]
    assert len(blocks) == len(set(blocks))
    assert {"facts", "sentences", "elements", "cautions"} <= set(blocks)


def test_tables_hold_every_row_and_every_number_as_it_is():
    document = MAKERS["six elements"]()
    tables = tables_of(rendered("six elements", "csv"))
    pairs = tables["pairs"]
    assert len(pairs) == len(document["pairs"]) == 15
    assert [float(value) for value in pairs["difference"]] == [p["difference"] for p in document["pairs"]]
    assert [float(value) for value in pairs["interval_low"]] == [
        p["interval"]["low"] for p in document["pairs"]
    ]
    assert list(pairs["signed_rank_method"]) == [p["signed_rank"]["method"] for p in document["pairs"]]
    means = tables["channels"].set_index(["channel", "element"])["mean"].astype(float)
    for channel in document["channels"]:
        for cell in channel["elements"]:
            assert means[channel["id"], cell["element"]] == cell["mean"]
    assert len(means) == 36 * 6
    assert len(tables["rounds"]) == 36
    assert list(tables["elements"]["material"])[:2] == ["brass", "phosphor bronze"]
    facts = tables["facts"].set_index("fact")["value"]
    assert float(facts["repeatability_sd"]) == document["repeatability"]["sd"]
    assert facts["readings_sha256"] == document["provenance"]["readings_sha256"]


def test_tables_that_the_other_forms_cut_are_whole_in_it():
    trial = trial_document(elements=["brass-3", "bronze-13"], channels=450)
    values = samples.readings([1.0, 0.0], rounds=30, channels=450)
    document = samples.document(trial, values)
    tables = tables_of(reports.render(document, "csv"))
    assert len(tables["channels"]) == 900
    assert list(tables["rounds"]["round"].astype(int)) == [*range(1, 31)] * 2


@pytest.mark.parametrize("text", HOSTILE)
def test_no_text_becomes_a_formula_and_none_breaks_its_cell(text):
    document = samples.two_elements()
    document["trial"]["title"] = text
    document["elements"][0]["label"] = text
    lines = lines_of(reports.render(document, "csv"))
    cells = [cell for line in lines for cell in line]
    assert [cell for cell in cells if cell[:1] in "=@\t\r\0" and cell] == []
    for cell in cells:
        if cell[:1] in {"+", "-"}:
            float(cell)  # a number, as it is
    assert len({len(line) for line in lines}) == 1


def test_numbers_below_zero_stay_numbers():
    tables = tables_of(rendered("six elements", "csv"))
    assert (tables["pairs"]["difference"].astype(float) < 0).any()


def test_an_exact_position_is_not_in_it():
    content = reports.render(samples.two_elements(site="hill 51.23456, -0.12345"), "csv")
    assert b"51.23" not in content
    assert b"(position withheld)" in content


def test_the_same_document_gives_the_same_bytes_whatever_the_locale():
    from reports.locales import speaking

    first = rendered("two elements", "csv")
    assert reports.render(MAKERS["two elements"](), "csv") == first
    with speaking("en-DE"):
        numbers = tables_of(reports.render(MAKERS["two elements"](), "csv"))["pairs"]
    assert numbers.equals(tables_of(first)["pairs"])
