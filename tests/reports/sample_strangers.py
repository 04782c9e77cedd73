"""An invented document whose every name tries to be more than a name."""

from tests.reports import sample_documents as samples
from tests.reports.sample_parts import trial_document

HOSTILE = ["<script>alert(1)</script>", "a\"b'c&<b>", "x\x00\x1b[31m\u202ey", "$x_{2}$ \\frac"]


def hostile_document() -> samples.Document:
    """Four elements, five channels and a title that would run, load or draw if they could."""
    trial = trial_document(elements=HOSTILE, channels=5, title='</title><script>alert("t")</script>')
    trial.update(reference=None, site="<img src=x onerror=alert(2)>", taken_by="'\"><svg onload=alert(3)>")
    trial["channels"] = [{"id": f"<b onclick=x>{n}", "rf_channel": f"<svg/onload=x>{n}"} for n in range(5)]
    return samples.document(trial, samples.readings([0.5, 0.1, 0.0, 1.0], rounds=6, channels=5))
