"""How far two colours stand apart."""


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours; W3C, Web Content Accessibility Guidelines 2.1, definitions."""
    lights = sorted((_light(one), _light(other)), reverse=True)
    return (lights[0] + 0.05) / (lights[1] + 0.05)


def _light(colour: str) -> float:
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
