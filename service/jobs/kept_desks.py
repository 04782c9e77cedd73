"""The desks of what is kept, each made when it is first asked for.

Their database library is loaded then and not before: a command that keeps nothing does not wait for it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from service.jobs.observing import Observer
from service.jobs.runners import Runner
from service.settings import Limits

if TYPE_CHECKING:
    from service.jobs.analysis_line import AnalysisLine
    from service.jobs.analyst import Analyst
    from service.jobs.archive_desk import ArchiveDesk
    from service.jobs.baselines import Baselines
    from service.jobs.delivery_line import DeliveryLine, Webhook
    from service.jobs.design_checks import CheckDesk
    from service.jobs.design_histories import HistoryDesk
    from service.jobs.kept_analyses import KeptAnalyses
    from service.jobs.kept_readings import KeptReadings
    from service.jobs.kept_trials import KeptTrials
    from service.jobs.plans import PlanDesk
    from service.storage import Database


@dataclass(frozen=True)
class KeptDesks:
    """All of them over one database and one runner.

    at_once: how many analyses that wait are done at a time. in_use: whether there is a database to look at.
    webhook: who is told of verdicts, None for nobody.
    """

    open_database: "Callable[[], Database]"
    runner: Runner
    limits: Limits
    references: Path
    observer: Observer
    at_once: int
    in_use: Callable[[], bool]
    webhook: "Webhook | None" = None

    @cached_property
    def trials(self) -> "KeptTrials":
        """Trials, fed over weeks."""
        from service.jobs.kept_trials import KeptTrials

        return KeptTrials(self.open_database(), self.limits)

    @cached_property
    def readings(self) -> "KeptReadings":
        """Their batches of readings."""
        from service.jobs.kept_readings import KeptReadings

        return KeptReadings(self.open_database(), self.runner, self.limits)

    @cached_property
    def plans(self) -> "PlanDesk":
        """Plans, also of trials under way."""
        from service.jobs.plans import PlanDesk

        return PlanDesk(self.runner, self.trials, self.limits, self.references)

    @cached_property
    def checks(self) -> "CheckDesk":
        """Design checks, also over two kept trials."""
        from service.jobs.design_checks import CheckDesk

        joined = (self.runner, self.trials, self.baselines)
        return CheckDesk(*joined, limits=self.limits, references=self.references)

    @cached_property
    def baselines(self) -> "Baselines":
        """Elements of kept trials under a name."""
        from service.jobs.baselines import Baselines

        return Baselines(self.open_database(), self.trials, self.limits)

    @cached_property
    def histories(self) -> "HistoryDesk":
        """Histories of designs over kept trials."""
        from service.jobs.design_histories import HistoryDesk

        return HistoryDesk(self.runner, self.trials, limits=self.limits, references=self.references)

    @cached_property
    def line(self) -> "AnalysisLine":
        """Takes analyses that wait."""
        from service.jobs.analysis_line import AnalysisLine

        return AnalysisLine(
            self.open_database(), self._analyst, self.runner, at_once=self.at_once, in_use=self.in_use
        )

    @cached_property
    def analyses(self) -> "KeptAnalyses":
        """Verdicts on kept trials."""
        from service.jobs.kept_analyses import KeptAnalyses

        joined = (self.trials, self.open_database(), self.runner)
        return KeptAnalyses(*joined, analyst=self._analyst, line=self.line, limits=self.limits)

    @cached_property
    def archives(self) -> "ArchiveDesk":
        """Archives, and verdicts reached again."""
        from service.jobs.archive_desk import ArchiveDesk

        joined = (self.open_database(), self.analyses, self.runner)
        return ArchiveDesk(*joined, limits=self.limits, references=self.references)

    @cached_property
    def deliveries(self) -> "DeliveryLine | None":
        """Tells the webhook of verdicts, where there is one."""
        if self.webhook is None:
            return None
        from service.jobs.delivery_line import DeliveryLine

        joined = (self.open_database(), self.webhook)
        return DeliveryLine(*joined, observer=self.observer, in_use=self.in_use)

    @cached_property
    def _analyst(self) -> "Analyst":
        from service.jobs.analyst import Analyst

        joined = (self.trials, self.open_database(), self.runner)
        return Analyst(
            *joined,
            limits=self.limits,
            references=self.references,
            observer=self.observer,
            announcer=self.deliveries,
        )

    def start(self) -> None:
        """Take up analyses that wait, and tell of verdicts that were not told."""
        self.line.start()
        if self.deliveries is not None:
            self.deliveries.start()

    def close(self) -> None:
        """Put analyses under way back, to be taken up again."""
        if "line" in vars(self):
            self.line.close()
        if self.deliveries is not None:
            self.deliveries.close()
