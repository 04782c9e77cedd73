"""Aerial Assay: from readings of an antenna trial to an honest verdict.

One seam holds the house together: the analysis document. `service` makes and serves it, `reports` renders
it and knows nothing else. Each room may import the rooms below it, never one beside it or above:

    __main__ | wsgi                  the command; the entry for a WSGI server
    app                              the one place where rooms are joined
    api | pages | client | operations
                                     HTTP; web pages; commands that speak HTTP; running the server
    jobs                             an analysis from start to end: here, in a pool of processes, on a cluster
    storage | analysis | intake      what is kept; from table to document; from bytes to table
    trial                            what was done at the mast: the trial, its rounds, its scores
    statistics | radio               arrays to numbers; the trade's units
    errors | settings                what can go wrong; what can be set

`reports` stands beside: `jobs` fills its sentences in, `client` prints them, `pages` show them. The contracts
in pyproject.toml hold this; DEVELOPERS.md walks a reading through the rooms.
"""
