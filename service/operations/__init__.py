"""Running the service: the server process and its log.

This room imports click when loaded, everything else when a command runs; it knows no route.
"""
