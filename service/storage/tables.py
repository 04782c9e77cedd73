"""The tables. What stands in one is told here; the migrations make them."""

from sqlalchemy import (
    Boolean,
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

METADATA = MetaData()
ID, TIME, SHA256, OWNER = String(32), String(27), String(64), String(200)
"""32 hexadecimal digits; a time as `clock.now_text` writes it; 64 hexadecimal digits; "" on loopback."""


def _of_trial() -> Column[str]:
    return Column("trial_id", ID, ForeignKey("trials.id", ondelete="CASCADE"), nullable=False)


TRIALS = Table(
    "trials",
    METADATA,
    Column("id", ID, primary_key=True),
    Column("owner", OWNER, nullable=False),
    Column("version", Integer, nullable=False),
    Column("document", Text, nullable=False),
    Column("first_plan", Text),
    Column("created_at", TIME, nullable=False),
    Column("changed_at", TIME, nullable=False),
    Index("trials_by_owner", "owner", "created_at", "id"),
)
"""`document` is the trial document as given, with every change since; `first_plan` its plan, defaults filled
in, when the first readings came; `version` grows with every change of the trial or of its readings."""

TRIAL_CHANGES = Table(
    "trial_changes",
    METADATA,
    _of_trial(),
    Column("number", Integer, nullable=False),
    Column("at", TIME, nullable=False),
    Column("reason", Text, nullable=False),
    Column("before", Text, nullable=False),
    Column("after", Text, nullable=False),
    UniqueConstraint("trial_id", "number", name="trial_changes_once"),
)
"""What was changed with a reason after readings had come: the fields before and after, as JSON objects."""

BATCHES = Table(
    "batches",
    METADATA,
    Column("id", ID, primary_key=True),
    _of_trial(),
    Column("number", Integer, nullable=False),
    Column("received_at", TIME, nullable=False),
    Column("kind", String(20), nullable=False),
    Column("reason", Text),
    Column("withdraws", Integer),
    Column("media_type", String(100), nullable=False),
    Column("body", LargeBinary, nullable=False),
    Column("body_sha256", SHA256, nullable=False),
    Column("columns", LargeBinary, nullable=False),
    Column("columns_sha256", SHA256, nullable=False),
    Column("names", Text, nullable=False),
    Column("holds", Text, nullable=False),
    Column("rows", Integer, nullable=False),
    Column("read_as", Text, nullable=False),
    UniqueConstraint("trial_id", "number", name="batches_once"),
)
"""`kind` is "readings", "correction" or "withdrawal" (`withdraws` a batch). `body` is what came, compressed;
`columns` the readings as they were understood (`packing`), `names` the texts that their codes stand for;
`holds` which runs and channels they are of, so that a new batch is checked without unpacking the others."""

IDEMPOTENCY_KEYS = Table(
    "idempotency_keys",
    METADATA,
    Column("owner", OWNER, primary_key=True),
    Column("key", String(255), primary_key=True),
    Column("request", Text, nullable=False),
    Column("body_sha256", SHA256, nullable=False),
    Column("state", String(10), nullable=False),
    Column("holder", String(200), nullable=False),
    Column("status", Integer),
    Column("answer", Text),
    Column("created_at", TIME, nullable=False),
    Index("idempotency_keys_by_age", "created_at"),
)
"""`state` is "running" (by `holder`, see `holders`) or "done" (with the status and the answer given)."""

ANALYSES = Table(
    "analyses",
    METADATA,
    Column("id", ID, primary_key=True),
    _of_trial(),
    Column("owner", OWNER, nullable=False),
    Column("trial_version", Integer, nullable=False),
    Column("batches", Integer, nullable=False),
    Column("state", String(10), nullable=False),
    Column("stage", String(40)),
    Column("created_at", TIME, nullable=False),
    Column("started_at", TIME),
    Column("finished_at", TIME),
    Column("heartbeat_at", TIME),
    Column("worker", String(200)),
    Column("document", LargeBinary),
    Column("problem", Text),
    Column("prefer_async", Boolean, nullable=False),
    Index("analyses_by_trial", "trial_id", "created_at", "id"),
    Index("analyses_by_state", "state"),
)
"""`state` is "waiting", "running", "done", "failed" or "cancelled"; `batches` the number of the last batch
that was analysed; `document` compressed JSON; `problem` a problem document."""

DELIVERIES = Table(
    "deliveries",
    METADATA,
    Column("id", ID, primary_key=True),
    Column("analysis_id", ID, ForeignKey("analyses.id", ondelete="CASCADE"), nullable=False),
    Column("notice", Text, nullable=False),
    Column("state", String(10), nullable=False),
    Column("tries", Integer, nullable=False),
    Column("created_at", TIME, nullable=False),
    Column("due_at", TIME, nullable=False),
    Column("holder", String(200)),
    Column("held_at", TIME),
    Column("ended_at", TIME),
    Column("trouble", Text),
    Index("deliveries_by_state", "state", "due_at"),
    Index("deliveries_by_analysis", "analysis_id"),
)
"""`notice` is what is told, as JSON; `state` "waiting" (until `due_at`), "sending" (by `holder`, see
`holders`), "sent" or "given up"; `trouble` what came of the last try, None where it was taken."""

BASELINES = Table(
    "baselines",
    METADATA,
    Column("id", ID, primary_key=True),
    Column("owner", OWNER, nullable=False),
    Column("name", String(200), nullable=False),
    Column("trial_id", ID, nullable=False),
    Column("element", Text, nullable=False),
    Column("date", TIME, nullable=False),
    Column("date_from", String(20), nullable=False),
    Column("note", Text),
    Column("created_at", TIME, nullable=False),
    UniqueConstraint("owner", "name", name="baselines_once"),
    Index("baselines_by_owner", "owner", "created_at", "id"),
)
"""An element of a kept trial under a name. `trial_id` is no key of another table: the baseline outlives its
trial, so that it can say that the trial is gone. `date` is that of the element's last reading when it was
named (`date_from` "last reading"), else the time of naming ("naming")."""

TOKENS = Table(
    "tokens",
    METADATA,
    Column("id", ID, primary_key=True),
    Column("owner", OWNER, nullable=False),
    Column("name", String(200), nullable=False),
    Column("digest", SHA256, nullable=False, unique=True),
    Column("may", String(10), nullable=False),
    Column("created_at", TIME, nullable=False),
    Column("expires_at", TIME),
    Column("revoked_at", TIME),
    Column("last_used_at", TIME),
)
"""`digest` is the SHA-256 of the token, `may` "read", "write" or "admin"."""
