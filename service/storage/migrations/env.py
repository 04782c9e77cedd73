"""Alembic's way in: the steps run in the transaction that the caller has begun, so all of them or none."""

from alembic import context

from service.storage.tables import METADATA

connection = context.config.attributes["connection"]
context.configure(connection=connection, target_metadata=METADATA)
context.run_migrations()
