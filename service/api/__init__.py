"""HTTP: parse a request, call one function of the jobs, answer.

What this room may not do: arithmetic (no numpy, scipy or pandas), rendering, or touching a table. Faults
leave it as application/problem+json only. It is joined to the other rooms in `service.app`.
"""
