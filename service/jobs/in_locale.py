"""Work that words, numbers and dates what it makes as a place has it."""

from collections.abc import Callable

from service.jobs.runners import Result


def in_locale(locale: str, work: Callable[[], Result]) -> Result:
    """The result of the work, done in the locale; ValueError for one that `reports.locales` does not know."""
    from reports.locales import speaking

    with speaking(locale):
        return work()
