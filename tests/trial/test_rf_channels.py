"""Which RF channel carries a channel."""

from service.trial.rf_channels import rf_channels
from service.trial.trial import Channel, Meter, Trial


def carriers(*channels):
    return rf_channels(Trial(meter=Meter("bars"), channels=channels))


def test_what_was_given_holds():
    found = carriers(Channel("One", "27"), Channel("27.1", "31"))
    assert found.of == {"One": "27", "27.1": "31"}
    assert (found.guessed, found.unknown) == ((), ())


def test_numbered_names_are_grouped_by_their_first_part():
    found = carriers(Channel("27.1"), Channel("27-2"), Channel("9.1"), Channel("27.1.1"), Channel("a.1"))
    assert found.of == {"27.1": "27", "27-2": "27", "9.1": "9", "27.1.1": "27.1.1", "a.1": "a.1"}
    assert found.guessed == ("27.1", "27-2", "9.1")
    assert found.unknown == ("27.1.1", "a.1")


def test_a_guessed_channel_joins_the_one_that_was_given():
    found = carriers(Channel("One", "27"), Channel("27.1"))
    assert found.groups() == {"27": ("One", "27.1")}


def test_a_channel_that_stands_alone_never_joins_another():
    found = carriers(Channel("27"), Channel("27.1"), Channel("Two", "Three"), Channel("Three"))
    assert found.of == {"27": "27 alone", "27.1": "27", "Two": "Three", "Three": "Three alone"}
    assert len(found.names) == 4


def test_rf_channels_stand_in_the_order_of_the_trials_channels():
    assert carriers(Channel("z", "9"), Channel("a", "10"), Channel("b", "9")).names == ("9", "10")
