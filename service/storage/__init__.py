"""What is kept: tables, bytes and JSON in SQLite or PostgreSQL; the only room that knows SQLAlchemy.

May import `trial`, `errors`, `settings`, numpy, sqlalchemy and alembic. It knows no HTTP and judges nothing.
Every time in it is a text (`clock.now_text`), so that both kinds of database order and answer them alike.
"""

from service.storage.database import Connection, Database, open_database

__all__ = ["Connection", "Database", "open_database"]
