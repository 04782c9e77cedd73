"""Why a formula of conductor loss gives bounds only: codes, their numbers, and the sentences of both."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final


@dataclass(frozen=True)
class FormulaLimit:
    """One reason; `evidence` holds the numbers of its sentence, not rounded."""

    code: str
    sentence: str
    evidence: Mapping[str, float] = field(default_factory=dict)


TOO_LONG, NOT_SLENDER = "too-long", "not-slender"
HOLDS: Final = "Smooth bulk metal, several skin depths thick; the thin-wire formula holds."
NOT_THICK: Final = FormulaLimit(
    "not-thick", "The conductor is not several skin depths thick, so only bounds are known."
)
BRACKETED: Final = FormulaLimit("bracketed", "Permeability, coating or form is known only within bounds.")
CODES: Final = (TOO_LONG, NOT_SLENDER, NOT_THICK.code, BRACKETED.code)


def too_long(wavelengths: float, longest: float) -> FormulaLimit:
    """The conductor has more wavelengths than the formula is used for."""
    return FormulaLimit(
        TOO_LONG,
        f"The conductor is {wavelengths:.2f} wavelengths long; the formula holds to {longest:g}.",
        {"wavelengths": wavelengths, "longest": longest},
    )


def not_slender(slenderness: float, least: float) -> FormulaLimit:
    """The conductor is too thick for its length; `slenderness` is length over radius."""
    return FormulaLimit(
        NOT_SLENDER,
        f"The conductor is only {slenderness:.0f} times as long as its radius; the formula wants {least:g}.",
        {"slenderness": slenderness, "least": least},
    )


def limits_of(
    of_antennas: Iterable[FormulaLimit | None], *, thick: bool, known: bool
) -> tuple[FormulaLimit, ...]:
    """The limits of two conductors, those that read alike as one; none where the formula holds."""
    limits = {limit.sentence: limit for limit in of_antennas if limit is not None}
    if not thick:
        return (*limits.values(), NOT_THICK)
    return tuple(limits.values()) if limits or known else (BRACKETED,)


def told(limits: Sequence[FormulaLimit]) -> dict[str, object]:
    """The limits as sentences (`why`), and as codes with their numbers (`reasons`); JSON-ready."""
    return {
        "why": " ".join(limit.sentence for limit in limits) or HOLDS,
        "reasons": [{"code": limit.code, "evidence": dict(limit.evidence)} for limit in limits],
    }
