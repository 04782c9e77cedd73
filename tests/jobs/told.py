"""A server whose verdicts are told to a webhook, and a document that comes to one."""

from sqlalchemy import select, update

from service.jobs.delivery_line import DeliveryLine, Webhook
from service.storage.delivery_rows import Delivery
from service.storage.tables import DELIVERIES
from tests.jobs.kept import OWNER, Server, Staged
from tests.waiting import PATIENCE, until

SECRET = "s" * 32
VERDICT = {"outcome": "clear winner", "statement": "The rod is better.", "winner": "rod", "rounds_done": 6}
DOCUMENT = {
    "verdict": VERDICT,
    "method": {"version": "no such version"},
    "trial": {"site": "indoor, upper floor", "taken_by": "somebody", "elements": [{"id": "rod"}]},
    "runs": [{"readings": [20.0, 21.0]}],
}


class Counting:
    """Notes what was counted."""

    def __init__(self):
        self.results: list[str] = []

    def delivered(self, result: str) -> None:
        self.results.append(result)


class Told(Server):
    """A server whose webhook is a receiver on the loopback address."""

    def __init__(self, url: str, hook: str, *, private_allowed: bool = True):
        self.counted = Counting()
        webhook = Webhook(hook, SECRET, private_allowed)
        self.runner = Staged()
        super().__init__(
            url, self.runner,
            announced=lambda database: DeliveryLine(
                database, webhook, observer=self.counted, in_use=lambda: True
            ),
        )  # fmt: skip

    def reach_verdict(self) -> str:
        """The id of an analysis that has just come to its verdict."""
        asked = self.desk.ask(OWNER, self.kept_trial()).analysis.id
        assert self.runner.came.acquire(timeout=PATIENCE)
        self.runner.end(len(self.runner.submitted) - 1, DOCUMENT)
        until(lambda: self.state(asked) == "done")
        return asked

    def deliveries(self) -> list[Delivery]:
        with self.database.reading() as connection:
            rows = connection.execute(select(DELIVERIES).order_by(DELIVERIES.c.created_at))
            return [Delivery(**row._mapping) for row in rows]

    def states(self) -> list[str]:
        return [each.state for each in self.deliveries()]

    def change(self, **values) -> None:
        with self.database.begin() as connection:
            connection.execute(update(DELIVERIES).values(**values))

    def close(self) -> None:
        self.announcer.close()
        super().close()
