"""Where work runs, as the settings say it."""

import sys

import pytest
from click.testing import CliRunner

from service.app import create_app
from service.jobs.cluster import Cluster
from service.jobs.pool import Pool
from service.jobs.runners import Here
from service.operations.serve import serve
from service.settings import SettingError, Settings, settings_from

ADDRESS = "tcp://127.0.0.1:8786"


@pytest.mark.parametrize(
    ("settings", "kind"),
    [
        (Settings(), Here),
        (Settings(workers=2), Pool),
        (Settings(compute=ADDRESS), Cluster),
        (Settings(compute=ADDRESS, workers=2), Cluster),
    ],
)
def test_the_settings_choose_the_runner(settings, kind):
    app = create_app(settings)
    assert type(app.runner) is kind
    app.close()


def test_a_scheduler_is_named_by_its_address():
    assert settings_from({"AERIAL_ASSAY_COMPUTE": ADDRESS}).compute == ADDRESS
    for wrong in ("dask", "http://127.0.0.1:8786", "tcp://127.0.0.1", "tcp://:8786x"):
        with pytest.raises(SettingError, match="tcp://HOST:PORT"):
            settings_from({"AERIAL_ASSAY_COMPUTE": wrong})


def test_a_server_without_the_library_says_which_extra_brings_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    monkeypatch.setenv("AERIAL_ASSAY_COMPUTE", ADDRESS)
    result = CliRunner().invoke(serve, ["--port", "0"], obj=create_app)
    assert result.exit_code != 0
    assert "aerial-assay[cluster]" in result.output
