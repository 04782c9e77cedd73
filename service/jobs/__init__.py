"""Work that takes time: from a body to a verdict, here or in a pool of processes with a deadline.

Only this room joins analysis and wording: analysis gives codes and numbers, `reports` the sentences. It
knows no HTTP; what goes wrong is raised from `service.errors`.
"""
