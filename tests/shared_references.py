"""The bell-shaped references of one process of tests: a module takes over those that another has computed."""

from service.statistics.bell_reference import MemoryStore

STORE = MemoryStore(capacity=160)
