"""The first round at which the rule has finite ends at all, whatever the readings."""

from service.statistics.bell_reference import bell_reference
from service.statistics.pair_look import Setting, look_at
from service.statistics.shuffled_maximum import arrangement_count, critical_place

MOST_ROUNDS = 60
_SPANS = (8, 16, 32, MOST_ROUNDS)


def fewest_rounds(elements: int, setting: Setting, *, longest: int) -> int | None:
    """First round with finite intervals, for complete rounds of K elements; null for one element.

    longest: rounds of the trial, whose reference is used where it is long enough.
    """
    if elements < 2:
        return None
    if elements == 2:
        return _two_elements(setting)
    rounds = (r for r in range(1, MOST_ROUNDS + 1) if setting.plan.is_look(elements, r))
    return next((r for r in rounds if _finite(elements, r, setting, longest=max(longest, r))), None)


def _two_elements(setting: Setting) -> int | None:
    for span in _SPANS:
        looks = bell_reference(2, span, setting.plan, store=setting.store).looks
        found = next((look.round for look in looks if look.order), None)
        if found is not None:
            return found
    return None


def _finite(elements: int, rounds: int, setting: Setting, *, longest: int) -> bool:
    look = look_at(elements, rounds, setting, longest=longest)
    number = arrangement_count(elements, rounds)
    return look is not None and critical_place(number, look.level) <= number
