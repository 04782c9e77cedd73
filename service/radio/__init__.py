"""The trade's units and tables, numbers with their sources.

Standard library only. Imports no other room: it knows neither trials nor readings nor statistics.
"""
