"""The line of deliveries: a thread that tells the webhook of verdicts, again where it was not taken.

A notice is written down with the verdict it tells of, and any number of servers look at one database: each
try begins with one UPDATE that names the delivery as it was seen, so that no two send it at the same time. A
server that ends between an answer and its note sends once more: at least once, under one delivery id.
"""

import logging
import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from service.jobs.looker import Looker
from service.jobs.message_signature import signed_headers
from service.jobs.notices import notice
from service.jobs.observing import Observer
from service.jobs.posting import ATTEMPT_SECONDS, NotTakenError, Poster
from service.jobs.retrying import MOST_TRIES, PAUSES, pause_after
from service.jobs.targets import Target
from service.storage import Connection, Database, delivery_rows
from service.storage.analysis_rows import KeptAnalysis
from service.storage.clock import now
from service.storage.delivery_rows import SENDING, Delivery
from service.storage.holders import Holder, is_gone
from service.storage.trial_rows import new_id

PAUSE_SECONDS = 2.0
LEAVING_SECONDS = ATTEMPT_SECONDS + 2.0
HELD_AT_MOST = timedelta(minutes=5)
"""No try takes as long, with the look-up of the name, which has a time of its own."""
GONE = 410
LOG = logging.getLogger("aerial_assay")


@dataclass(frozen=True)
class Webhook:
    """Who is told: the URL, the secret that signs, and whether it may be at a private address."""

    url: str
    secret: str = field(repr=False)
    private_allowed: bool


class DeliveryLine:
    """Tells a webhook of verdicts, one at a time.

    observer: who counts. in_use: whether there is a database to look at; looking would make one.
    """

    def __init__(
        self, database: Database, webhook: Webhook, *, observer: Observer, in_use: Callable[[], bool]
    ):
        self._database = database
        self._target = Target.of(webhook.url)
        self._secret = webhook.secret
        self._poster = Poster(webhook.private_allowed)
        self._observer = observer
        self._looker = Looker(
            self._send_what_is_due, place="the line of deliveries", pause_seconds=PAUSE_SECONDS, in_use=in_use
        )

    def note(self, connection: Connection, held: KeptAnalysis, document: Mapping[str, Any]) -> None:
        """Write down, in the transaction that keeps the analysis, that its verdict is to be told."""
        delivery_id = new_id()
        told = notice(delivery_id, held, document)
        delivery_rows.insert_delivery(connection, delivery_id, held.id, notice=told)

    def start(self) -> None:
        """Begin to look, now and then from now on."""
        self._looker.start()

    def look(self) -> None:
        """Look at once: there is something to tell."""
        self._looker.look()

    def close(self) -> None:
        """Begin no further try, and wait for the one under way."""
        self._looker.leave()
        self._looker.join(LEAVING_SECONDS)

    def _send_what_is_due(self) -> None:
        with self._database.reading() as connection:
            there = delivery_rows.open_deliveries(connection, longest_wait=PAUSES[-1])
        for seen in there:
            if self._looker.leaving.is_set():
                return
            if seen.state != SENDING or is_gone(str(seen.holder), str(seen.held_at), at_most=HELD_AT_MOST):
                self._send(seen, str(Holder()))

    def _send(self, seen: Delivery, holder: str) -> None:
        with self._database.begin() as connection:
            if not delivery_rows.take(connection, seen, holder):
                return
        trouble: str | None
        pause: timedelta | None
        if seen.tries >= MOST_TRIES:
            trouble, pause = "whoever sent it ended on the last try", None
        else:
            trouble, pause = self._tried(seen)
        self._note_end(seen, holder, trouble=trouble, pause=pause)

    def _tried(self, seen: Delivery) -> tuple[str | None, timedelta | None]:
        """What came in the way, None where it was taken, and how long to wait; None to give up."""
        body = seen.notice.encode("ascii")
        created, nonce = int(now().timestamp()), secrets.token_hex(16)
        headers = signed_headers(self._target, body, secret=self._secret, created=created, nonce=nonce)
        try:
            answer = self._poster.post(self._target, headers, body)
        except NotTakenError as error:
            return str(error), pause_after(seen.tries, None)
        if 200 <= answer.status < 300:
            return None, None
        pause = None if answer.status == GONE else pause_after(seen.tries, answer.retry_after)
        return f"the answer was {answer.status}", pause

    def _note_end(self, seen: Delivery, holder: str, *, trouble: str | None, pause: timedelta | None) -> None:
        with self._database.begin() as connection:
            if trouble is None:
                delivery_rows.sent(connection, seen.id, holder)
            elif pause is None:
                delivery_rows.give_up(connection, seen.id, holder, trouble=trouble)
            else:
                delivery_rows.put_off(connection, seen.id, holder, trouble=trouble, pause=pause)
        result = "sent" if trouble is None else "given up" if pause is None else "put off"
        if trouble is not None:
            LOG.warning("the webhook did not take the notice %s (%s): %s", seen.id, result, trouble)
        self._observer.delivered(result)
