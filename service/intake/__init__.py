"""Bytes in, a trial and a table of its readings out, every fault placed, and how the bytes were understood.

`batch.read_batch` is the way in. Nothing is imported here, so that a media type or strict JSON can be had
without pandas. May import `trial`, `radio`, `errors` and `settings`; knows nothing of analysis, of reports or
of the web.
"""
