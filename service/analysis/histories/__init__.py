"""Does a design creep? What `service.analysis.design_history` puts together.

Trials of several days are analysed as for a verdict; this takes one element's difference to the reference in
each of them and asks for its trend over their dates.
"""
