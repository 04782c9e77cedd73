"""What was done at the mast: the trial document, the table of readings, rounds, scores, completeness.

May import `statistics`, `radio`, `errors` and `settings`; never flask, marshmallow, sqlalchemy or reports.
It does not judge: what the scores mean is said in `analysis`.
"""
