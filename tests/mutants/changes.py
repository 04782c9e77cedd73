"""The changes: in each a piece of a module of `service/statistics` that stands there once becomes another."""

from typing import NamedTuple


class Change(NamedTuple):
    """A piece of text in a module, and what it becomes."""

    module: str
    was: str
    became: str

    def applied(self, text: str) -> str:
        """The changed text of the module. Raises ValueError where the piece does not stand there once."""
        if text.count(self.was) != 1:
            raise ValueError(f"stands {text.count(self.was)} times in {self.module}: {self.was!r}")
        return text.replace(self.was, self.became)


_JUDGEMENT = (
    ("if scores.ndim != 2 or competing.shape", "if competing.shape"),
    ("or competing.shape != scores.shape[:1] or not scores.size", "or not scores.size"),
    (" or not scores.size:", ":"),
    (
        "settled = [0 if outcome != NEEDS_MORE_RUNS else None for outcome in pairs.outcome]",
        "settled = [None for outcome in pairs.outcome]",
    ),
    ("trial_settled = 0 if trial.outcome != NEEDS_MORE_RUNS else None", "trial_settled = None"),
    ("members = looks.joined(looks.rounds)", "members = looks.members(looks.rounds)"),
    (
        "if noise is None or (trial_settled == 0 and None not in settled):",
        "if noise is None or trial_settled == 0:",
    ),
    ("if noise is None or (trial_settled == 0 and None not in settled):", "if noise is None:"),
    (
        "competing=competing[members],\n        margin",
        "competing=np.ones(int(members.sum()), dtype=bool),\n        margin",
    ),
    ("margin=looks.rule.margin,\n        setting", "margin=2 * looks.rule.margin,\n        setting"),
    (
        "inside = members[first] & members[second]\n    by_pair",
        "inside = members[first] | members[second]\n    by_pair",
    ),
    ("together = tuple(old if old == 0 else new", "together = tuple(new"),
    (
        "        return RoundsNeeded(0, 0, together, too_fine=False)\n",
        "        return RoundsNeeded(found.half, found.safe, together, too_fine=False)\n",
    ),
    (
        "        return RoundsNeeded(0, 0, together, too_fine=False)\n",
        "        return RoundsNeeded(0, 0, together, too_fine=found.too_fine)\n",
    ),
    ("alone = int((members & competing).sum()) < 2", "alone = int(members.sum()) < 2"),
    ("too_fine=found.too_fine and not alone", "too_fine=found.too_fine"),
    ("RoundsNeeded(found.half, found.safe, together", "RoundsNeeded(found.half, found.half, together"),
    (
        "present_outcome=answer.outcome if answer.is_look else NEEDS_MORE_RUNS",
        "present_outcome=answer.outcome",
    ),
    ("table = looks.whole(looks.rounds)\n    members", "table = looks.plain(looks.rounds)\n    members"),
    (
        "else fewest_rounds(len(looks.scores),",
        "else fewest_rounds(fitted_elements,",
    ),
    ("schedule=(*known_looks, *schedule)", "schedule=schedule"),
    (
        "for look in (*known_looks, *schedule) if look.round == looks.rounds",
        "for look in schedule if look.round == looks.rounds",
    ),
    (
        "bell_draws=bell_draws(fitted_elements, looks.rounds) if schedule else 0",
        "bell_draws=bell_draws(len(looks.scores), looks.rounds) if schedule else 0",
    ),
    ("permutations=present.shuffled.arrangements if present and present.shuffled else 0", "permutations=0"),
    (
        "enumerated=bool(present and present.shuffled and present.shuffled.enumerated)",
        "enumerated=bool(present and present.shuffled)",
    ),
    (
        "residual_variance=found.noise.squares / found.noise.degrees_of_freedom if",
        "residual_variance=found.noise.squares if",
    ),
    ("if fitted < 2:", "if fitted < 3:"),
    ("most = int(look.fewer.argmax())", "most = int(look.fewer.argmin())"),
    ("return Criticals(None, None, known.leader_critical)", "return Criticals(None, None, known.critical)"),
    ("    judged = looks.scores[looks.members(looks.rounds)]\n", "    judged = looks.scores\n"),
    (
        "p_values = pair_p_values(looks.scores, seed=looks.rule.seed)",
        "p_values = pair_p_values(looks.scores, seed=1)",
    ),
    (
        "two = len(members) == 2 or (here & (members.sum() == 2) & (looks.rounds >= BELOW_ROUNDS))",
        "two = len(members) == 2",
    ),
    (
        "two = len(members) == 2 or (here & (members.sum() == 2) & (looks.rounds >= BELOW_ROUNDS))",
        "two = here & (members.sum() == 2) & (looks.rounds >= BELOW_ROUNDS)",
    ),
    ("(here & (members.sum() == 2) & (looks.rounds >= BELOW_ROUNDS))", "(here & (members.sum() == 2))"),
    ("        return known.adjusted_p\n", "        pass\n"),
    (
        "decided_at=int(found.pairs.decided_at[place]) or None",
        "decided_at=int(found.pairs.decided_at[place])",
    ),
    (
        "both = bool(np.isfinite(low) and np.isfinite(high))",
        "both = bool(np.isfinite(low) or np.isfinite(high))",
    ),
    (
        "alone = table.outcomes(margin=looks.rule.margin, tol=looks.setting.tol)",
        "alone = table.leader_outcomes(margin=looks.rule.margin, tol=looks.setting.tol)",
    ),
)
_LEADER = (
    (
        "beaten = {one.element for one in self.against if one.outcome == CLEAR_WINNER}",
        "beaten = {one.element for one in self.against if one.outcome != NEEDS_MORE_RUNS}",
    ),
    ("return tuple(sorted(element for element in able", "return tuple((element for element in able"),
    ("competing & table.members & np.isfinite(table.scores)", "competing & np.isfinite(table.scores)"),
    ("competing & table.members & np.isfinite(table.scores)", "table.members & np.isfinite(table.scores)"),
    ("competing & table.members & np.isfinite(table.scores)", "competing & table.members"),
    ("best = table.scores[able].max() - looks.setting.tol", "best = table.scores[able].max()"),
    ("is_look = any(table.looked", "is_look = all(table.looked"),
    ("if not single or NEEDS_MORE_RUNS in single:", "if NEEDS_MORE_RUNS in single:"),
    (
        "return WITHIN_NOISE if WITHIN_NOISE in single else CLEAR_WINNER",
        "return CLEAR_WINNER if CLEAR_WINNER in single else WITHIN_NOISE",
    ),
    (
        "low, high, difference = table.leader_low[place], table.leader_high[place]",
        "low, high, difference = table.low[place], table.high[place]",
    ),
    ("low, high, difference = -high, -low, -difference", "low, high, difference = -low, -high, -difference"),
    (
        "finite = bool(np.isfinite(low) and np.isfinite(high))",
        "finite = bool(np.isfinite(low) or np.isfinite(high))",
    ),
    ("difference=float(difference) + 0.0 if", "difference=float(difference) if"),
    ("for at in range(number, 0, -1):", "for at in range(number, number - 1, -1):"),
    ("for at in range(number, 0, -1):", "for at in range(1, number + 1):"),
    ("leads = (table.difference[place] > 0) == (leader < other)", "leads = True"),
    (
        "return outcome if leads or outcome != CLEAR_WINNER else NEEDS_MORE_RUNS",
        "return outcome if leads else NEEDS_MORE_RUNS",
    ),
    ("table.leader_outcomes(margin=margin", "table.outcomes(margin=margin"),
)
_STANDING = (
    ("open_pairs=outcome == NEEDS_MORE_RUNS)", "open_pairs=outcome != NEEDS_MORE_RUNS)"),
    ("new = (outcome == NEEDS_MORE_RUNS) & (found != NEEDS_MORE_RUNS)", "new = found != NEEDS_MORE_RUNS"),
    (
        "for number in range(looks.rounds, 0, -1):\n        found",
        "for number in range(1, looks.rounds + 1):\n        found",
    ),
    ("np.where(found[new] == CLEAR_WINNER, ahead[new], -1)", "ahead[new]"),
    (
        "looks.plain(number).difference > 0, first, second",
        "looks.plain(looks.rounds).difference > 0, first, second",
    ),
    ("if (outcome != NEEDS_MORE_RUNS).all():", "if (outcome != NEEDS_MORE_RUNS).any():"),
    ("judged = looks.members(looks.rounds) & competing", "judged = looks.members(looks.rounds)"),
    ("if (judged & ~looks.members(number)).any():", "if (judged & ~looks.members(number)).all():"),
    ("if answer.is_look and answer.outcome != NEEDS_MORE_RUNS:", "if answer.outcome != NEEDS_MORE_RUNS:"),
    ("winner = answer.leader if answer.outcome == CLEAR_WINNER else None", "winner = answer.leader"),
    (
        "for number in range(looks.rounds, 0, -1):\n        if",
        "for number in range(1, looks.rounds + 1):\n        if",
    ),
    ("return looks.whole(number).outcomes(margin=margin, tol=tol)", "return found"),
    ("if ((found != NEEDS_MORE_RUNS) & open_pairs).any():", "if (found != NEEDS_MORE_RUNS).any():"),
)
_TRIAL_LOOKS = (
    (
        "alpha = rule.alpha / 2.0 if known or self._repeated_early() else rule.alpha",
        "alpha = rule.alpha / 2.0 if known else rule.alpha",
    ),
    ("alpha = rule.alpha / 2.0 if known or self._repeated_early() else rule.alpha", "alpha = rule.alpha"),
    (
        "self.repeats = single_mountings(scores) if repeats is None else repeats",
        "self.repeats = single_mountings(scores)",
    ),
    ("fewest = FEWEST_ROUNDS if number >= BELOW_ROUNDS else 1", "fewest = FEWEST_ROUNDS"),
    ("return members if members.sum() > 1 else", "return members if members.sum() > 0 else"),
    ("look = self._pair_looks[number] = with_shuffles(look, self.setting)", "pass"),
    (
        "noise = pooled_noise(repeats, self.known) if number < BELOW_ROUNDS else None",
        "noise = pooled_noise(repeats, self.known)",
    ),
    ("if noise is None or members.sum() < 2:", "if noise is None:"),
    (
        "alpha, floor = self.rule.alpha / 2.0, self.setting.floor",
        "alpha, floor = self.rule.alpha, self.setting.floor",
    ),
    ("alpha, floor = self.rule.alpha / 2.0, self.setting.floor", "alpha, floor = self.rule.alpha / 2.0, 0.0"),
    ("fewest_runs=fewest_runs, competing=self.competing", "fewest_runs=fewest_runs"),
    ("range(1, min(self.rounds, BELOW_ROUNDS - 1) + 1)", "range(1, min(self.rounds, BELOW_ROUNDS - 1))"),
    ("half = self.rule.alpha / 2.0\n", "half = self.rule.alpha\n"),
    (
        "Look(number, half, half, look.critical, look.leader_critical)",
        "Look(number, half, half, look.leader_critical, look.critical)",
    ),
    ("if number >= BELOW_ROUNDS and members.sum() == 2:", "if members.sum() == 2:"),
    ("return no_look(scores, self.joined(number))", "return no_look(scores, self.members(number))"),
    (
        "from_two(scores, members, self.setting, longest=self.rounds)",
        "from_two(scores, members, self.setting, longest=number)",
    ),
    ("enough = number >= BELOW_ROUNDS and members.sum() > 2", "enough = members.sum() > 2"),
    ("here = self.repeats.round < number", "here = self.repeats.round <= number"),
    ("is not None for number in (1, 2))", "is not None for number in (1,))"),
    (
        "pooled_noise(self._until(number), None) is not None",
        "pooled_noise(self._until(number), self.known) is not None",
    ),
)
_LEAST_SQUARES = (
    ("level = filled.sum(axis=0) / counts", "level = filled.sum(axis=0) / len(scores)"),
    ("counts = np.maximum(present.sum(axis=0), 1)\n    filled", "counts = present.sum(axis=0)\n    filled"),
    ("left - left.sum(axis=0) / counts, np.nan)", "left, np.nan)"),
    ("at_average = _at_average_round(scores[:, used], contrast)", "at_average = contrast"),
    (
        "freedom = int(present.sum()) - (len(scores) + int(used.sum()) - 1)",
        "freedom = int(present.sum()) - (len(scores) + scores.shape[1] - 1)",
    ),
    ("float(np.nansum(left**2))", "float(np.nansum(left**2)) * 1.01"),
    (
        "rounds = matrix[0, 0] * elements / (elements - 1) if elements > 1 else 1.0",
        "rounds = matrix[0, 0] * elements / elements if elements > 1 else 1.0",
    ),
    ("(np.eye(elements) - ones) / max(rounds, 1.0)", "(np.eye(elements) - ones) / rounds"),
    ("rtol=0, atol=1e-9):", "rtol=0, atol=1e-1):"),
    ("if np.allclose(matrix, rounds", "if False and np.allclose(matrix, rounds"),
    (
        "np.linalg.pinv(matrix, rtol=_NULL, hermitian=True)",
        "np.linalg.pinv(matrix, rtol=1e-17, hermitian=True)",
    ),
    (
        "return diagonal[first] + diagonal[second] - 2.0 * inverse[first, second]",
        "return diagonal[first] + diagonal[second]",
    ),
    ("    if present.all(axis=0).any():\n        return np.zeros_like(groups)\n", ""),
    (
        "groups[(groups[:, None] == groups[members]).any(axis=1)] = groups[members].min()",
        "groups[members] = groups[members].min()",
    ),
    ("    if present.all():\n        return np.asarray(scores.mean(axis=1))\n", ""),
    ("(without.sum(axis=0) / present.sum(axis=0)).mean()", "without.sum() / present.sum()"),
    ("enough = present.sum(axis=1) >= fewest_runs", "enough = present.sum(axis=1) > fewest_runs"),
    ("joined(present & enough[:, None])", "joined(present)"),
    ("if not enough.any():\n        return np.asarray(enough)\n", "pass\n"),
    ("np.where(competing, len(scores) + 1.0, 1.0)", "np.where(competing, 1.0, 1.0)"),
    ("np.where(competing, len(scores) + 1.0, 1.0)", "np.where(competing, 1.0, 0.0)"),
    ("np.where(competing, len(scores) + 1.0, 1.0)", "np.where(competing, 2.0, 1.0)"),
    ("best = np.where(sizes == sizes.max(), means, -np.inf).argmax()", "best = sizes.argmax()"),
    ("if group >= 0 else 0.0 for group in groups", "for group in groups"),
)
CHANGES = tuple(
    Change(module, was, became)
    for module, changes in (
        ("judgement", _JUDGEMENT),
        ("leader", _LEADER),
        ("standing", _STANDING),
        ("trial_looks", _TRIAL_LOOKS),
        ("least_squares", _LEAST_SQUARES),
    )
    for was, became in changes
)
