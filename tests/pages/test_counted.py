"""Sentences with a number that only a script will know."""

from service.pages.counted import counted


def test_each_number_finds_its_form():
    """Three forms, as Polish has them: 1; 2 to 4; 5 (CLDR, integers below 10)."""
    forms = counted(lambda n: "jeden" if n == 1 else "kilka" if n < 5 else "wiele", 6)
    assert forms.forms == ("jeden", "kilka", "wiele")
    assert [forms.forms[int(digit)] for digit in forms.which] == [
        *("jeden", "kilka", "kilka", "kilka", "wiele", "wiele")
    ]
