"""All looks of one trial, each on the rounds up to it, made when asked for and kept."""

from service.statistics.bell_reference import Store
from service.statistics.intervals import tolerance
from service.statistics.known_noise import (
    BELOW_ROUNDS,
    KnownLook,
    known_look,
    pooled_noise,
    single_mountings,
)
from service.statistics.least_squares import in_fit
from service.statistics.look_table import LookTable, from_known, from_pair_look, from_two, no_look
from service.statistics.looks import FEWEST_ROUNDS, Plan
from service.statistics.pair_look import PairLook, Setting, pair_look, with_shuffles
from service.statistics.results import Flags, Floats, KnownNoise, Look, Repeats, Rule


class TrialLooks:
    """The looks of scores (K, R) under a rule; round numbers are 1-based; competing (K,): who may win."""

    def __init__(
        self,
        scores: Floats,
        rule: Rule,
        *,
        store: Store,
        known: KnownNoise | None,
        repeats: Repeats | None,
        competing: Flags | None = None,
    ):
        self.scores = scores
        self.rule = rule
        self.competing = competing
        self.rounds = scores.shape[1]
        self.known = known
        self.repeats = single_mountings(scores) if repeats is None else repeats
        alpha = rule.alpha / 2.0 if known or self._repeated_early() else rule.alpha
        plan = Plan(rule.planned, alpha, rule.every_round)
        self.setting = Setting(plan, rule.floor, rule.seed, tolerance(scores), store)
        self._members: dict[int, Flags] = {}
        self._pair_looks: dict[int, PairLook | None] = {}
        self._plain: dict[int, LookTable] = {}
        self._whole: dict[int, LookTable] = {}

    def members(self, number: int) -> Flags:
        """Which elements are judged after this round, (K,)."""
        if number not in self._members:
            fewest = FEWEST_ROUNDS if number >= BELOW_ROUNDS else 1
            self._members[number] = self._in_fit(number, fewest_runs=fewest)
        return self._members[number]

    def joined(self, number: int) -> Flags:
        """The judged elements, or where there are not two of them all that shared rounds join, (K,)."""
        members = self.members(number)
        return members if members.sum() > 1 else self._in_fit(number, fewest_runs=1)

    def plain(self, number: int) -> LookTable:
        """The look by the bell-shaped references alone: decides no less than the whole rule does."""
        if number not in self._plain:
            self._plain[number] = self._make(number)
        return self._plain[number]

    def whole(self, number: int) -> LookTable:
        """The look by the whole rule, shuffled reference included."""
        if number not in self._whole:
            look = self.shuffled_look(number)
            made = self.plain(number) if look is None else self._from(number, look)
            self._whole[number] = made
        return self._whole[number]

    def shuffled_look(self, number: int) -> PairLook | None:
        """The look at three or more elements with its shuffled reference, null where there is none."""
        look = self._pair_look(number)
        if look is not None and look.shuffled is None:
            look = self._pair_looks[number] = with_shuffles(look, self.setting)
        return look

    def known_at(self, number: int) -> KnownLook | None:
        """The look after one or two rounds by a known noise, null where that does not apply."""
        repeats = self._until(number)
        noise = pooled_noise(repeats, self.known) if number < BELOW_ROUNDS else None
        members = self.members(number)
        if noise is None or members.sum() < 2:
            return None
        difference = no_look(self.scores[:, :number], members).difference
        alpha, floor = self.rule.alpha / 2.0, self.setting.floor
        return known_look(difference, repeats, noise, members=members, alpha=alpha, floor=floor)

    def _in_fit(self, number: int, *, fewest_runs: int) -> Flags:
        return in_fit(self.scores[:, :number], fewest_runs=fewest_runs, competing=self.competing)

    def known_looks(self) -> tuple[Look, ...]:
        """The looks after one and two rounds by a known noise, each with half of the error."""
        found = {number: self.known_at(number) for number in range(1, min(self.rounds, BELOW_ROUNDS - 1) + 1)}
        half = self.rule.alpha / 2.0
        return tuple(
            Look(number, half, half, look.critical, look.leader_critical)
            for number, look in found.items()
            if look is not None
        )

    def _make(self, number: int) -> LookTable:
        scores, members = self.scores[:, :number], self.members(number)
        known, look = self.known_at(number), self._pair_look(number)
        if known is not None:
            return from_known(scores, members, known)
        if look is not None:
            return self._from(number, look)
        if number >= BELOW_ROUNDS and members.sum() == 2:
            return from_two(scores, members, self.setting, longest=self.rounds)
        return no_look(scores, self.joined(number))

    def _from(self, number: int, look: PairLook) -> LookTable:
        return from_pair_look(self.scores[:, :number], self.members(number), look)

    def _pair_look(self, number: int) -> PairLook | None:
        if number not in self._pair_looks:
            members = self.members(number)
            enough = number >= BELOW_ROUNDS and members.sum() > 2
            fitted = self.scores[members, :number]
            made = pair_look(fitted, self.setting, longest=self.rounds) if enough else None
            self._pair_looks[number] = made
        return self._pair_looks[number]

    def _until(self, number: int) -> Repeats:
        here = self.repeats.round < number
        return Repeats(self.repeats.element[here], self.repeats.round[here], self.repeats.score[here])

    def _repeated_early(self) -> bool:
        return any(pooled_noise(self._until(number), None) is not None for number in (1, 2))
