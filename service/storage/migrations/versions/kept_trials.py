"""Trials, their changes and batches; idempotency keys, analyses and tokens."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
ID, TIME, SHA256, OWNER = sa.String(32), sa.String(27), sa.String(64), sa.String(200)


def upgrade() -> None:
    """Make the first tables."""
    _trials()
    _trial_changes()
    _batches()
    _idempotency_keys()
    _analyses()
    _tokens()


def _of_trial() -> "sa.Column[str]":
    key = sa.ForeignKey("trials.id", ondelete="CASCADE")
    return sa.Column("trial_id", ID, key, nullable=False)


def _trials() -> None:
    op.create_table(
        "trials",
        sa.Column("id", ID, primary_key=True),
        sa.Column("owner", OWNER, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("document", sa.Text, nullable=False),
        sa.Column("first_plan", sa.Text),
        sa.Column("created_at", TIME, nullable=False),
        sa.Column("changed_at", TIME, nullable=False),
    )
    op.create_index("trials_by_owner", "trials", ["owner", "created_at", "id"])


def _trial_changes() -> None:
    op.create_table(
        "trial_changes",
        _of_trial(),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("at", TIME, nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("before", sa.Text, nullable=False),
        sa.Column("after", sa.Text, nullable=False),
        sa.UniqueConstraint("trial_id", "number", name="trial_changes_once"),
    )


def _batches() -> None:
    op.create_table(
        "batches",
        sa.Column("id", ID, primary_key=True),
        _of_trial(),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("received_at", TIME, nullable=False),
        sa.Column("kind", sa.String(20), nullable=False),
        sa.Column("reason", sa.Text),
        sa.Column("withdraws", sa.Integer),
        sa.Column("media_type", sa.String(100), nullable=False),
        sa.Column("body", sa.LargeBinary, nullable=False),
        sa.Column("body_sha256", SHA256, nullable=False),
        sa.Column("columns", sa.LargeBinary, nullable=False),
        sa.Column("columns_sha256", SHA256, nullable=False),
        sa.Column("names", sa.Text, nullable=False),
        sa.Column("holds", sa.Text, nullable=False),
        sa.Column("rows", sa.Integer, nullable=False),
        sa.Column("read_as", sa.Text, nullable=False),
        sa.UniqueConstraint("trial_id", "number", name="batches_once"),
    )


def _idempotency_keys() -> None:
    op.create_table(
        "idempotency_keys",
        sa.Column("owner", OWNER, primary_key=True),
        sa.Column("key", sa.String(255), primary_key=True),
        sa.Column("request", sa.Text, nullable=False),
        sa.Column("body_sha256", SHA256, nullable=False),
        sa.Column("state", sa.String(10), nullable=False),
        sa.Column("holder", sa.String(200), nullable=False),
        sa.Column("status", sa.Integer),
        sa.Column("answer", sa.Text),
        sa.Column("created_at", TIME, nullable=False),
    )
    op.create_index("idempotency_keys_by_age", "idempotency_keys", ["created_at"])


def _analyses() -> None:
    op.create_table(
        "analyses",
        sa.Column("id", ID, primary_key=True),
        _of_trial(),
        sa.Column("owner", OWNER, nullable=False),
        sa.Column("trial_version", sa.Integer, nullable=False),
        sa.Column("batches", sa.Integer, nullable=False),
        sa.Column("state", sa.String(10), nullable=False),
        sa.Column("stage", sa.String(40)),
        sa.Column("created_at", TIME, nullable=False),
        sa.Column("started_at", TIME),
        sa.Column("finished_at", TIME),
        sa.Column("heartbeat_at", TIME),
        sa.Column("worker", sa.String(200)),
        sa.Column("document", sa.LargeBinary),
        sa.Column("problem", sa.Text),
        sa.Column("prefer_async", sa.Boolean, nullable=False),
    )
    op.create_index("analyses_by_trial", "analyses", ["trial_id", "created_at", "id"])
    op.create_index("analyses_by_state", "analyses", ["state"])


def _tokens() -> None:
    op.create_table(
        "tokens",
        sa.Column("id", ID, primary_key=True),
        sa.Column("owner", OWNER, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("digest", SHA256, nullable=False, unique=True),
        sa.Column("may", sa.String(10), nullable=False),
        sa.Column("created_at", TIME, nullable=False),
        sa.Column("expires_at", TIME),
        sa.Column("revoked_at", TIME),
        sa.Column("last_used_at", TIME),
    )
