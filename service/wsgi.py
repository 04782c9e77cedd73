"""The application for any WSGI server: `service.wsgi:application`, set up by the environment.

With its first request each process takes up what an earlier one left: analyses that wait, verdicts that were
not told. Not when it is loaded, since a server may load it once and fork then, which no thread outlives.
"""

import atexit
import os
import sys
from dataclasses import replace

from service.app import create_app
from service.operations.log_lines import log_to
from service.settings import settings_from

log_to(sys.stderr, requests=True)
settings = settings_from(os.environ)
application = create_app(replace(settings, workers=max(settings.workers, 1)))
application.before_request(application.kept.start)
atexit.register(application.close)
