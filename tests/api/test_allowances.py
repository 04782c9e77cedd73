"""How often something may happen: counted, waited for, forgotten, and bounded in memory."""

from service.api.allowances import MOST_KEYS, Allowance


class Clock:
    now = 1000.0

    def __call__(self) -> float:
        return self.now


def test_so_many_and_then_the_wait_until_the_first_is_out_of_date():
    clock = Clock()
    allowance = Allowance(3, seconds=60, clock=clock)
    for _ in range(3):
        assert allowance.used_up("a") == 0
        assert allowance.take("a") == 0
        clock.now += 10
    assert allowance.used_up("a") == allowance.take("a") == 30
    assert allowance.take("b") == 0
    clock.now += 29.5
    assert allowance.take("a") == 0.5
    clock.now += 0.5
    assert allowance.used_up("a") == allowance.take("a") == 0


def test_asking_and_being_refused_count_nothing():
    clock = Clock()
    allowance = Allowance(1, seconds=60, clock=clock)
    assert [allowance.used_up("a") for _ in range(5)] == [0.0] * 5
    assert allowance.take("a") == 0
    clock.now += 59
    assert allowance.take("a") == 1
    clock.now += 1
    assert allowance.take("a") == 0


def test_a_crowd_of_keys_pushes_out_the_oldest_and_fills_no_memory():
    allowance = Allowance(1, seconds=60, clock=Clock())
    for number in range(MOST_KEYS):
        allowance.take(str(number))
    assert allowance.used_up("0") > 0
    allowance.take("one more")
    assert allowance.used_up("0") == 0
    assert allowance.used_up("1") > 0
    assert allowance.used_up("one more") > 0
