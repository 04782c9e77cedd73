"""What may be set from outside: the limits and how the service runs, each with a default.

Every field of `Limits` and of `Settings` may be given in the environment as AERIAL_ASSAY_ and its name
in capitals (AERIAL_ASSAY_READINGS=50000).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path

PREFIX = "AERIAL_ASSAY_"


class SettingError(ValueError):
    """A setting in the environment is not what it should be; the text names it and what is allowed."""


@dataclass(frozen=True)
class Limits:
    """What one request may bring and take; a request beyond a limit is refused with the limit's name.

    `pairs_times_rounds` bounds the work of the statistics, `text_characters` every free text of a trial;
    the seconds are those of one analysis and of one rendering, `waiting` the requests that may stand in
    line for a free worker.
    """

    body_bytes: int = 128 * 2**20
    readings: int = 1_000_000
    elements: int = 64
    rounds: int = 400
    pairs_times_rounds: int = 100_000
    channels: int = 2_000
    text_characters: int = 200
    analysis_seconds: int = 120
    rendering_seconds: int = 60
    waiting: int = 32


@dataclass(frozen=True)
class Settings:
    """How the service runs.

    `workers` 0 analyses in the same process and without a deadline; `references` is the folder that keeps
    the bell-shaped references, None for the one of the user's cache. `stated` holds the names of the settings
    and limits that the environment gave.
    """

    host: str = "127.0.0.1"
    port: int = 8080
    workers: int = 0
    references: Path | None = None
    limits: Limits = field(default_factory=Limits)
    stated: frozenset[str] = field(default=frozenset(), compare=False)

    def origin(self, name: str) -> str:
        """Where the value of a setting or limit came from: the variable that gave it, or "default"."""
        return PREFIX + name.upper() if name in self.stated else "default"


NAMES = ("host", "port", "workers", "references", *(item.name for item in fields(Limits)))
"""Every setting and limit."""


def settings_from(environment: Mapping[str, str]) -> Settings:
    """The settings that `environment` gives, defaults elsewhere.

    Raises SettingError for a number that is none, and for one below 1 (below 0 for PORT and WORKERS).
    """
    folder = environment.get(f"{PREFIX}REFERENCES")
    return Settings(
        host=environment.get(f"{PREFIX}HOST") or Settings.host,
        port=_count(environment, "port", 0, Settings.port),
        workers=_count(environment, "workers", 0, Settings.workers),
        references=Path(folder) if folder else None,
        limits=_limits(environment),
        stated=frozenset(name for name in NAMES if environment.get(PREFIX + name.upper())),
    )


def _limits(environment: Mapping[str, str]) -> Limits:
    names = [item.name for item in fields(Limits) if PREFIX + item.name.upper() in environment]
    return Limits(**{name: _count(environment, name, 1) for name in names})


def _count(environment: Mapping[str, str], name: str, least: int, default: int | None = None) -> int:
    key = PREFIX + name.upper()
    text = environment.get(key)
    if text is None and default is not None:
        return default
    digits = (text or "").strip()
    if not (digits.isascii() and digits.isdigit() and len(digits) < 16) or int(digits) < least:
        raise SettingError(f"{key}={text!r} is not a whole number from {least} up.")
    return int(digits)
