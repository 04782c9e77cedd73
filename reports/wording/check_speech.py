"""One check of a design with the words of its two trials."""

from dataclasses import dataclass

from reports import document as doc
from reports import numerals
from reports.language import say
from reports.wording.direction import higher_or_lower
from reports.wording.speech import Speech


@dataclass(frozen=True)
class CheckSpeech:
    """A check with the words of the candidate's trial (`now`) and of the baseline's (`then`)."""

    check: doc.Entry
    now: Speech
    then: Speech

    @property
    def candidate(self) -> str:
        """What the candidate is called in a sentence."""
        names = self.now.names(self.check["samples"])
        return say("{element} now", element=names) if is_then_and_now(self.check) else names

    @property
    def baseline(self) -> str:
        """What the baseline is called in a sentence."""
        name = self.then.name(self.check["baseline"])
        return say("{element} then", element=name) if is_then_and_now(self.check) else name

    @property
    def margin(self) -> str:
        """The margin with its unit."""
        return self.now.amount(self.check["margin"])

    @property
    def level(self) -> str:
        """How sure each of the limits is."""
        return numerals.per_cent(self.check["limits"]["level"])

    def apart(self, value: float) -> str:
        """A difference in words: "0.41 bars lower"."""
        limits = self.check["limits"]
        width = numerals.half_width(limits["low"], limits["high"])
        return higher_or_lower(self.now.measured(numerals.estimate(abs(value), width)), value)


def is_then_and_now(check: doc.Entry) -> bool:
    """Whether candidate and baseline are the same element, in two trials."""
    return bool(check["candidate"] == check["baseline"])


def labels_of(check: doc.Entry) -> tuple[str, str]:
    """What candidate and baseline are called; where they are the same element, which is of now and then."""
    candidate, baseline = doc.clean(check["candidate_label"]), doc.clean(check["baseline_label"])
    if not is_then_and_now(check):
        return candidate, baseline
    return say("{element} now", element=candidate), say("{element} then", element=baseline)
