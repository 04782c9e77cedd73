"""What a heading tells: separator and form, and where it stands."""

import pytest

from service.errors import BadRequest
from service.intake.heading_search import text_heading
from service.intake.text_lines import text_lines

ALL = (",", ";", "\t", "|")


def found(text, separators=ALL):
    return text_heading(text_lines(text.encode()), separators, most_columns=10**6)


def heading_of(line, separators=ALL):
    return found(line, separators).heading


@pytest.mark.parametrize("separator", ALL)
@pytest.mark.parametrize(
    ("names", "form"),
    [
        (("element", "round", "channel", "value"), "long"),
        (("value", "channel", "element"), "long"),
        (("channel", "a@1", "b@1"), "wide"),
        (("channel", "rf_channel", "a"), "wide"),
        (("a@1", "channel"), "wide"),
        (("element", "value"), "long"),
        (("one", "two"), "long"),
    ],
)
def test_separator_and_form(separator, names, form):
    heading = heading_of("\n\n" + separator.join(names))
    assert (heading.separator, heading.names, heading.form, heading.row) == (separator, names, form, 3)


@pytest.mark.parametrize(
    ("line", "separator"),
    [
        ("channel;a,b@1;c,d@1", ";"),
        ("channel,a;b@1,c;d@1", ","),
        ("channel\ta,b;c", "\t"),
        ("channel|a,b|c", "|"),
        ('"channel","a;b"', ","),
    ],
)
def test_other_separators_may_stand_in_names(line, separator):
    assert heading_of(line).separator == separator


def test_a_table_said_to_be_separated_by_tabs_is_split_by_nothing_else():
    assert heading_of("channel,a", ("\t",)).names == ("channel,a",)


def test_quotes_and_spaces_around_names_fall_away():
    assert heading_of('channel ," a ","b""c"').names == ("channel", "a", 'b"c')


def test_a_quotation_mark_left_open_is_no_heading():
    with pytest.raises(BadRequest, match="line 1 cannot be split"):
        heading_of('channel,"a')


def test_a_long_line_is_split():
    assert len(heading_of("channel," + ",".join(["e"] * 200_000)).names) == 200_001


def test_a_heading_may_take_two_lines_in_one_cell():
    heading = heading_of('element,channel,"Level\n(dBuV)"\na,x,7')
    assert (heading.row, heading.end, heading.names, heading.units[2]) == (
        1, 2, ("element", "channel", "value"), "dBuV",
    )  # fmt: skip


@pytest.mark.parametrize("above", ["Quayside trial", "Quayside trial;;", "by hand;12 May;\n\nunit: bars"])
def test_lines_above_the_heading_are_told(above):
    told = found(f"{above}\nchannel;a@1;b@1\nx;7;8")
    assert told.heading.names == ("channel", "a@1", "b@1")
    assert told.above == tuple(row for row, line in enumerate(above.split("\n"), start=1) if line)


def test_a_heading_with_a_slip_is_the_heading_all_the_same():
    told = found("element,round,chanel,value\na,1,channel,7\na,1,x,7")
    assert (told.heading.row, told.above) == (1, ())


def test_a_heading_that_two_separators_part_is_decided_by_the_lines_below():
    assert heading_of("ch;x,ch\n1;7\n2;8").separator == ";"
    assert heading_of("ch;x,ch\n1,7\n2,8").separator == ","


def test_what_stays_ambiguous_is_refused_by_name():
    with pytest.raises(BadRequest, match=r"line 1 can be parted by commas and by semicolons.*sep=,"):
        heading_of("ch;x,ch\n1;7,2")
