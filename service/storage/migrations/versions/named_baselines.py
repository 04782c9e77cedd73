"""Baselines that are kept by name."""

import sqlalchemy as sa
from alembic import op

revision = "named_baselines"
down_revision = "0001"
ID, TIME, OWNER = sa.String(32), sa.String(27), sa.String(200)


def upgrade() -> None:
    """Make the table of baselines."""
    op.create_table(
        "baselines",
        sa.Column("id", ID, primary_key=True),
        sa.Column("owner", OWNER, nullable=False),
        sa.Column("name", sa.String(200), nullable=False),
        sa.Column("trial_id", ID, nullable=False),
        sa.Column("element", sa.Text, nullable=False),
        sa.Column("date", TIME, nullable=False),
        sa.Column("date_from", sa.String(20), nullable=False),
        sa.Column("note", sa.Text),
        sa.Column("created_at", TIME, nullable=False),
        sa.UniqueConstraint("owner", "name", name="baselines_once"),
    )
    op.create_index("baselines_by_owner", "baselines", ["owner", "created_at", "id"])
