"""What a design check asks: which designs, against which, through what, and that it can be asked at all."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from service.analysis.analyse import Analysed
from service.analysis.facts import Facts
from service.errors import BadInput, Fault


@dataclass(frozen=True)
class Design:
    """One design: the ids of its samples (one, or several of a batch) and the trial they were run in.

    `trial` is its place among the trials, `place` the JSON pointer at which it was named.
    """

    samples: tuple[str, ...]
    trial: int = 0
    place: str = "#/candidates"

    @property
    def name(self) -> str:
        """What the design is called: its id, or those of its samples."""
        return " + ".join(self.samples)


@dataclass(frozen=True)
class Question:
    """Are the candidates no more than the margin below the baseline?

    `reference` joins two trials, None for the one that both name; `margin` None for that of the trials.
    `kept_as` tells name, date and note of a kept baseline, None where it was named by its trial.
    """

    baseline: Design
    candidates: tuple[Design, ...]
    reference: str | None = None
    margin: float | None = None
    kept_as: Mapping[str, Any] | None = None


@dataclass(frozen=True)
class CheckedTrial:
    """A trial that takes part, analysed; `id` is that of a kept trial."""

    analysed: Analysed
    id: str | None = None

    @property
    def facts(self) -> Facts:
        """All that is known of it."""
        return self.analysed.facts

    @property
    def document(self) -> dict[str, Any]:
        """Its analysis document."""
        return self.analysed.document


@dataclass(frozen=True)
class Settled:
    """A question that can be asked: everything it left open is filled in."""

    question: Question
    trials: tuple[CheckedTrial, ...]
    margin: float
    margin_from: str
    alpha: float
    reference: str | None = field(default=None)

    @property
    def across(self) -> bool:
        """Whether baseline and candidates are of different trials, joined by the reference."""
        return self.reference is not None

    @property
    def share(self) -> float:
        """The alpha of each candidate when all of them share it."""
        return self.alpha / len(self.question.candidates)

    def trial_of(self, design: Design) -> CheckedTrial:
        """The trial of a design."""
        return self.trials[design.trial]


def settled(question: Question, trials: Sequence[CheckedTrial]) -> Settled:
    """The question with reference, margin and alpha filled in.

    Raises BadInput with every reason why it cannot be asked: elements that are not there or named twice,
    candidates both in the baseline's trial and in others, units, scales or margins that differ.
    """
    faults = [*_unknown(question, trials), *_twice(question)]
    then = question.baseline.trial
    elsewhere = [design for design in question.candidates if design.trial != then]
    if elsewhere and len(elsewhere) < len(question.candidates):
        detail = "Some candidates are in the baseline's trial and some are not; ask for them in two checks."
        faults.append(Fault(detail, pointer="#/candidates"))
    faults += [fault for design in elsewhere for fault in _unlike(question, design, trials)]
    reference = _reference(question, trials) if elsewhere else None
    faults += _no_reference(question, reference, trials) if elsewhere else []
    used = [trials[place] for place in sorted({then, *(design.trial for design in question.candidates)})]
    margins = {trial.facts.trial.margin for trial in used}
    if question.margin is None and len(margins) > 1:
        told = ", ".join(f"{margin:g}" for margin in sorted(margins))
        faults.append(Fault(f"The trials have different margins ({told}); give one.", pointer="#/margin"))
    if faults:
        raise BadInput(faults)
    return Settled(
        question=question,
        trials=tuple(trials),
        margin=min(margins) if question.margin is None else question.margin,
        margin_from="trial" if question.margin is None else "question",
        alpha=1.0 - max(trial.facts.trial.confidence for trial in used),
        reference=reference,
    )


def _unknown(question: Question, trials: Sequence[CheckedTrial]) -> Iterator[Fault]:
    for design in (question.baseline, *question.candidates):
        there = trials[design.trial].facts.ids
        for name in design.samples:
            if name not in there:
                detail = f"No element of this id is in the trial; there are {', '.join(there[:20])}."
                yield Fault(detail, pointer=design.place, given=name[:80])


def _twice(question: Question) -> Iterator[Fault]:
    """The same id in two trials is no repeat: the same element then and now."""
    seen = {(question.baseline.trial, name) for name in question.baseline.samples}
    for design in question.candidates:
        for name in design.samples:
            if (design.trial, name) in seen:
                detail = "This element is named already; name each once, the baseline not as a candidate."
                yield Fault(detail, pointer=design.place, given=name[:80])
            seen.add((design.trial, name))


def _unlike(question: Question, design: Design, trials: Sequence[CheckedTrial]) -> Iterator[Fault]:
    """What keeps a candidate of another trial from being held against the baseline."""
    if len(design.samples) > 1:
        detail = "Several samples of a design are judged within one trial, with the baseline run in it."
        yield Fault(detail, pointer=design.place)
    for name, here, there in meter_differences(trials[design.trial], trials[question.baseline.trial]):
        detail = f"The meter's {name} is {here} here and {there} in the baseline's trial; "
        yield Fault(f"{detail}only trials of one unit and scale can be compared.", pointer=design.place)


def meter_differences(trial: CheckedTrial, other: CheckedTrial) -> Iterator[tuple[str, str, str]]:
    """What differs between the meters of two trials so that they cannot be compared: name, value of each."""
    one, another = trial.facts.trial.meter, other.facts.trial.meter
    for name in ("unit", "lowest", "highest"):
        here, there = getattr(one, name), getattr(another, name)
        if here != there:
            yield name, _told(here), _told(there)


def _told(value: object) -> str:
    return "not given" if value is None else f"{value}"


def _reference(question: Question, trials: Sequence[CheckedTrial]) -> str | None:
    """As asked, else the one that all trials of the question name."""
    if question.reference is not None:
        return question.reference
    named = {trials[d.trial].facts.trial.reference for d in (question.baseline, *question.candidates)}
    return named.pop() if len(named) == 1 else None


def _no_reference(
    question: Question, reference: str | None, trials: Sequence[CheckedTrial]
) -> Iterator[Fault]:
    designs = (question.baseline, *question.candidates)
    shared = [
        name
        for name in trials[question.baseline.trial].facts.ids
        if all(name in trials[design.trial].facts.ids for design in designs)
    ]
    told = f"both hold: {', '.join(shared[:20])}" if shared else "they share none, so they cannot be joined"
    if reference is None:
        yield Fault(
            f"Two trials are joined by an element that both hold; name it; {told}.", pointer="#/reference"
        )
    elif reference not in shared:
        yield Fault(
            f"This element is not in every trial; {told}.", pointer="#/reference", given=reference[:80]
        )
    elif any(reference in design.samples for design in designs):
        detail = "The reference must be another element than baseline and candidates."
        yield Fault(detail, pointer="#/reference", given=reference[:80])
