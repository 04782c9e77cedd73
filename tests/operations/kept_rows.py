"""Rows as they are kept, and the commands run on the database that keeps them."""

import hashlib
import json
import os
import secrets

from click.testing import CliRunner
from sqlalchemy import insert, select

from service.storage import Database
from service.storage.clock import now_text
from service.storage.tables import ANALYSES, BASELINES, BATCHES, DELIVERIES, METADATA, TRIALS


def run(command, url, *arguments):
    environment = {"AERIAL_ASSAY_DATABASE": str(url) if "://" in str(url) else f"sqlite:///{url}"}
    return CliRunner().invoke(command, list(map(str, arguments)), env=environment)


def rows_of(database: Database) -> dict[str, list[tuple]]:
    with database.reading() as connection:
        return {
            table.name: sorted(map(tuple, connection.execute(select(table))), key=repr)
            for table in METADATA.sorted_tables
        }


def a_trial(trial_id: str) -> dict:
    document = json.dumps({"title": "Über “Kai”\u2028", "meter": {"unit": "dB"}}, ensure_ascii=False)
    return {
        "id": trial_id, "owner": "o", "version": 1, "document": document, "first_plan": None,
        "created_at": now_text(), "changed_at": now_text(),
    }  # fmt: skip


def a_batch(trial_id: str, body: bytes) -> dict:
    return {
        "id": secrets.token_hex(16), "trial_id": trial_id, "number": 1, "received_at": now_text(),
        "kind": "readings", "reason": None, "withdraws": None, "media_type": "text/csv", "body": body,
        "body_sha256": hashlib.sha256(body).hexdigest(), "columns": b"\x00\xff\n", "columns_sha256": "0" * 64,
        "names": "{}", "holds": "{}", "rows": 7, "read_as": "{}",
    }  # fmt: skip


def an_analysis(trial_id: str) -> dict:
    return {
        "id": secrets.token_hex(16), "trial_id": trial_id, "owner": "o", "trial_version": 1, "batches": 1,
        "state": "done", "created_at": now_text(), "document": b"\x00\xff", "prefer_async": True,
    }  # fmt: skip


def a_delivery(analysis_id: str) -> dict:
    return {
        "id": secrets.token_hex(16), "analysis_id": analysis_id, "notice": '{"outcome": "within noise"}',
        "state": "waiting", "tries": 3, "created_at": now_text(), "due_at": now_text(),
        "trouble": "the answer was 503",
    }  # fmt: skip


def a_baseline(trial_id: str) -> dict:
    return {
        "id": secrets.token_hex(16), "owner": "o", "name": f"“Kai” {trial_id}", "trial_id": trial_id,
        "element": "stäb", "date": now_text(), "date_from": "naming", "note": None, "created_at": now_text(),
    }  # fmt: skip


def keep(database: Database, trials: int = 1) -> None:
    with database.begin() as connection:
        for _ in range(trials):
            trial = a_trial(secrets.token_hex(16))
            connection.execute(insert(TRIALS).values(trial))
            connection.execute(insert(BATCHES).values(a_batch(trial["id"], os.urandom(3000))))
            analysis = an_analysis(trial["id"])
            connection.execute(insert(ANALYSES).values(analysis))
            connection.execute(insert(DELIVERIES).values(a_delivery(analysis["id"])))
            connection.execute(insert(BASELINES).values(a_baseline(trial["id"])))
