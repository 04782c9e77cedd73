"""Which way a difference goes, in words."""

from reports.language import say


def higher_or_lower(amount: str, value: float) -> str:
    """An amount with its way: "0.41 bars lower", "the same" where the value is 0."""
    if not value:
        return say("the same")
    return say("{amount} higher", amount=amount) if value > 0 else say("{amount} lower", amount=amount)
