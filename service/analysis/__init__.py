"""From the table of readings to the analysis document: codes and numbers, every field present, no sentences.

May import `trial`, `statistics`, `radio`, `errors` and `settings`; never intake, reports or anything of the
web. Sentences are filled in by `jobs` from `reports.wording`; nothing is rounded here.
"""

from service.analysis.analyse import analyse

__all__ = ["analyse"]
