"""What the webhook is told of verdicts, waiting or sent."""

import sqlalchemy as sa
from alembic import op

revision = "deliveries"
down_revision = "named_baselines"
ID, TIME = sa.String(32), sa.String(27)


def upgrade() -> None:
    """Make the table of deliveries."""
    op.create_table(
        "deliveries",
        sa.Column("id", ID, primary_key=True),
        sa.Column("analysis_id", ID, sa.ForeignKey("analyses.id", ondelete="CASCADE"), nullable=False),
        sa.Column("notice", sa.Text, nullable=False),
        sa.Column("state", sa.String(10), nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("created_at", TIME, nullable=False),
        sa.Column("due_at", TIME, nullable=False),
        sa.Column("holder", sa.String(200)),
        sa.Column("held_at", TIME),
        sa.Column("ended_at", TIME),
        sa.Column("trouble", sa.Text),
    )
    op.create_index("deliveries_by_state", "deliveries", ["state", "due_at"])
    op.create_index("deliveries_by_analysis", "deliveries", ["analysis_id"])
