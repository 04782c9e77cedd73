"""The application for any WSGI server: `service.wsgi:application`, set up by the environment."""

import os
import sys
from dataclasses import replace

from service.app import create_app
from service.operations.log_lines import log_to
from service.settings import settings_from

log_to(sys.stderr, requests=True)
settings = settings_from(os.environ)
application = create_app(replace(settings, workers=max(settings.workers, 1)))
