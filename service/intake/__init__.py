"""Bytes in, a trial and a table of its readings out, every fault placed, and how the bytes were understood.

May import `trial`, `radio`, `errors` and `settings`; knows nothing of analysis, of reports or of the web.
"""

from service.intake.batch import read_batch
from service.intake.marks import Marks
from service.intake.media_types import JSON

__all__ = ["JSON", "Marks", "read_batch"]
