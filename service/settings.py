"""What may be set from outside: the limits and how the service runs, each with a default.

Every field of `Limits` and of `Settings` may be given in the environment as AERIAL_ASSAY_ and its name
in capitals (AERIAL_ASSAY_READINGS=50000).
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlsplit

PREFIX = "AERIAL_ASSAY_"
SCHEDULER = re.compile(r"(tcp|tls)://[^\s/]+:\d{1,5}", re.ASCII)
TOKENS = ("where needed", "required")
PRIVATE = ("refused", "allowed")
LOCALES = ("en-GB", "en-US", "en-DE")
"""How reports write numbers and dates, and on what paper they print."""
SECRET = re.compile(r"[!-~]{32,200}", re.ASCII)
"""A secret as long as the digest that it keys, as RFC 2104 section 3 wants it."""
SCOPES = ("read", "write", "admin")
"""What a token may, each with all before it: read and be told one-shot verdicts; keep trials; watch over the
service."""


def is_loopback(address: str) -> bool:
    """Whether an IP address, or the name localhost, leads to this machine only."""
    try:
        return address.lower() == "localhost" or ip_address(address.strip("[]")).is_loopback
    except ValueError:
        return False


class SettingError(ValueError):
    """A setting in the environment is not what it should be; the text names it and what is allowed."""


@dataclass(frozen=True)
class Limits:
    """What one request may bring and take; a request beyond a limit is refused with the limit's name.

    `pairs_times_rounds` bounds the work of the statistics, `text_characters` every free text of a trial;
    the seconds are those of one analysis and of one rendering, `waiting` the requests that may stand in
    line for a free worker, `requests_per_minute` what one token may ask of one process; the limits of a
    workbook are its size unpacked, the parts of its archive and the cells of a sheet; `archive_bytes` is the
    size of a trial's archive unpacked.
    """

    body_bytes: int = 128 * 2**20
    readings: int = 1_000_000
    elements: int = 64
    rounds: int = 400
    pairs_times_rounds: int = 100_000
    channels: int = 2_000
    text_characters: int = 200
    workbook_bytes: int = 256 * 2**20
    workbook_entries: int = 1_000
    workbook_cells: int = 50_000_000
    archive_bytes: int = 256 * 2**20
    analysis_seconds: int = 120
    rendering_seconds: int = 60
    waiting: int = 32
    requests_per_minute: int = 600


@dataclass(frozen=True)
class Settings:
    """How the service runs.

    workers: 0 analyses in the same process and without a deadline.
    references: the folder that keeps the bell-shaped references, None for the one of the user's cache.
    database: the SQLAlchemy URL of what keeps trials and tokens, None for a file in the user's data folder.
    compute: "here", or the address of a Dask scheduler.
    hosts: names and addresses beyond the loopback by which clients may ask for the service.
    tokens: "where needed" (on any address but the loopback) or "required" (everywhere).
    stop_seconds: how long requests under way may go on when the server is asked to stop.
    locale: how reports write numbers and dates where a request does not say, and their paper.
    webhook: the URL that is told of every verdict on a kept trial, None for nobody.
    webhook_secret: the secret that signs what it is told.
    webhook_private: "refused" or "allowed": whether it may be at an address that is not of the public
    internet, and without TLS.
    stated: the names of the settings and limits that the environment gave.
    """

    host: str = "127.0.0.1"
    port: int = 8080
    workers: int = 0
    references: Path | None = None
    database: str | None = None
    compute: str = "here"
    hosts: tuple[str, ...] = ()
    tokens: str = "where needed"
    stop_seconds: int = 30
    locale: str = "en-GB"
    webhook: str | None = None
    webhook_secret: str | None = field(default=None, repr=False)
    webhook_private: str = "refused"
    limits: Limits = field(default_factory=Limits)
    stated: frozenset[str] = field(default=frozenset(), compare=False)

    def tokens_required(self) -> bool:
        """Whether everybody has to show a token: told so outright, or others than this machine may ask."""
        return self.tokens == "required" or bool(self.hosts) or not is_loopback(self.host)

    def origin(self, name: str) -> str:
        """Where the value of a setting or limit came from: the variable that gave it, or "default"."""
        return PREFIX + name.upper() if name in self.stated else "default"


OWN = tuple(item.name for item in fields(Settings) if item.name not in {"limits", "stated"})
NAMES = (*OWN, *(item.name for item in fields(Limits)))
"""Every setting and limit."""


def settings_from(environment: Mapping[str, str]) -> Settings:
    """The settings that `environment` gives, defaults elsewhere.

    Raises SettingError for a number that is none, for one below 1 (below 0 for PORT, WORKERS and
    STOP_SECONDS), for a word where others are allowed, and for a WEBHOOK that could not be told in safety.
    """
    folder = environment.get(f"{PREFIX}REFERENCES")
    private = _one_of(PRIVATE, environment, "webhook_private")
    webhook, secret = _webhook(environment, private_allowed=private == "allowed")
    return Settings(
        host=environment.get(f"{PREFIX}HOST") or Settings.host,
        port=_count(environment, "port", 0, Settings.port),
        workers=_count(environment, "workers", 0, Settings.workers),
        references=Path(folder) if folder else None,
        database=environment.get(f"{PREFIX}DATABASE") or None,
        compute=_compute(environment),
        hosts=_words(environment.get(f"{PREFIX}HOSTS", "")),
        tokens=_one_of(TOKENS, environment, "tokens"),
        stop_seconds=_count(environment, "stop_seconds", 0, Settings.stop_seconds),
        locale=_one_of(LOCALES, environment, "locale"),
        webhook=webhook,
        webhook_secret=secret,
        webhook_private=private,
        limits=_limits(environment),
        stated=frozenset(name for name in NAMES if environment.get(PREFIX + name.upper())),
    )


def _limits(environment: Mapping[str, str]) -> Limits:
    names = [item.name for item in fields(Limits) if PREFIX + item.name.upper() in environment]
    return Limits(**{name: _count(environment, name, 1) for name in names})


def _words(text: str) -> tuple[str, ...]:
    return tuple(word.strip().lower() for word in text.split(",") if word.strip())


def _compute(environment: Mapping[str, str]) -> str:
    text = environment.get(f"{PREFIX}COMPUTE") or Settings.compute
    if text != Settings.compute and not SCHEDULER.fullmatch(text):
        raise SettingError(
            f"{PREFIX}COMPUTE={text!r} is neither {Settings.compute} nor a scheduler's address: "
            "tcp://HOST:PORT or tls://HOST:PORT."
        )
    return text


def _webhook(environment: Mapping[str, str], *, private_allowed: bool) -> tuple[str | None, str | None]:
    """The URL that is told of verdicts and the secret that signs it; neither is shown where it is wrong."""
    key = f"{PREFIX}WEBHOOK"
    url, secret = environment.get(key) or None, environment.get(f"{key}_SECRET") or None
    if url is None:
        return None, secret
    schemes = ("https", "http") if private_allowed else ("https",)
    if not _names_a_place(url, schemes):
        raise SettingError(
            f"{key} is not a URL to send to: {' or '.join(schemes)}://HOST/PATH, without user, password or "
            f"fragment. http is for receivers in your own network, with {key}_PRIVATE=allowed."
        )
    if secret is None or not SECRET.fullmatch(secret):
        raise SettingError(
            f"{key}_SECRET is not 32 to 200 printable ASCII characters without spaces; what is sent to {key} "
            "is signed with it. `openssl rand -hex 32` makes one."
        )
    return url, secret


def _names_a_place(url: str, schemes: Sequence[str]) -> bool:
    if not url.isascii() or not url.isprintable() or " " in url:
        return False
    try:
        parts = urlsplit(url)
        nobody = parts.username is None and parts.password is None and not parts.fragment
        return parts.scheme in schemes and bool(parts.hostname) and parts.port != 0 and nobody
    except ValueError:
        return False


def _one_of(allowed: Sequence[str], environment: Mapping[str, str], name: str) -> str:
    key = PREFIX + name.upper()
    text = environment.get(key) or allowed[0]
    if text not in allowed:
        raise SettingError(f"{key}={text!r} is none of: {', '.join(allowed)}.")
    return text


def _count(environment: Mapping[str, str], name: str, least: int, default: int | None = None) -> int:
    key = PREFIX + name.upper()
    text = environment.get(key)
    if text is None and default is not None:
        return default
    digits = (text or "").strip()
    if not (digits.isascii() and digits.isdigit() and len(digits) < 16) or int(digits) < least:
        raise SettingError(f"{key}={text!r} is not a whole number from {least} up.")
    return int(digits)
