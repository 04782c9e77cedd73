"""Is a candidate as good as its baseline? What `service.analysis.design_check` puts together.

The trials are analysed as for a verdict; this takes their scores and cautions and asks one question of them.
"""
