"""The shapes of requests and answers, as the description shows them.

The query's schema also parses. Trials and readings are described here and checked in their own rooms,
where every fault of a batch is found at once; the tests hold both to the same names.
"""
