"""The commands that ask for verdicts. They speak HTTP only.

To a URL, or to an application handed to them, in the same process, through a WSGI transport. This room
imports click when loaded, everything else when a command runs; of the other rooms only `reports.text`,
which puts an analysis document on a terminal.
"""
