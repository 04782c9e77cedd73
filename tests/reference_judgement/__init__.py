"""The decision rule a second time, plain and slow, to hold the fast one against.

Ordinary numpy, written from the definitions and sharing no code with `service.statistics`: the random
words are taken from numpy's Philox anew, and every draw goes through the same least-squares formulas as
the readings themselves.
"""
