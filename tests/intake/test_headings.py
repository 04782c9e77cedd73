"""What a heading tells: separator and form."""

import csv

import pytest

from service.intake.headings import heading_of


@pytest.mark.parametrize("separator", [",", ";", "\t"])
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
    heading = heading_of(separator.join(names), 3)
    assert (heading.separator, heading.names, heading.form, heading.row) == (separator, names, form, 3)


@pytest.mark.parametrize(
    ("line", "separator"),
    [
        ("channel;a,b@1;c,d@1", ";"),
        ("channel,a;b@1,c;d@1", ","),
        ("channel\ta,b;c", "\t"),
        ('"channel","a;b"', ","),
    ],
)
def test_other_separators_may_stand_in_names(line, separator):
    assert heading_of(line, 1).separator == separator


def test_a_table_said_to_be_separated_by_tabs_is_split_by_nothing_else():
    assert heading_of("channel,a", 1, separators=("\t",)).names == ("channel,a",)


def test_quotes_and_spaces_around_names_fall_away():
    assert heading_of('channel ," a ","b""c"', 1).names == ("channel", "a", 'b"c')


def test_a_quotation_mark_left_open_is_no_heading():
    with pytest.raises(csv.Error):
        heading_of('channel,"a', 1)


def test_a_long_line_is_split():
    assert len(heading_of("channel," + ",".join(["e"] * 200_000), 1).names) == 200_001
