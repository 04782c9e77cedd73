"""What all report tests share: rendered reports, and the rule that rendering says nothing to the log."""

import logging
from functools import cache

import pytest

from tests.reports import made_once, sample_metal
from tests.reports import sample_documents as samples

MAKERS = {
    "two elements": samples.two_elements,
    "six elements": samples.six_elements,
    "one round": samples.one_round,
    "one element": samples.one_element,
    "all at ceiling": samples.all_at_ceiling,
    "known noise": samples.known_noise,
    "incomplete rounds": samples.incomplete_rounds,
    "decibels": samples.db_meter,
    "metals": sample_metal.with_metals,
    "within noise": lambda: samples.six_elements(effects=(0.2, 0.2, 0.1, 0.0), margin=1.2),
    "not settled": lambda: samples.six_elements(effects=(0.3, 0.2, 0.1, -0.1), rounds=4),
}


@pytest.fixture(autouse=True)
def quiet_renderer(caplog):
    """Any line that the renderer logs, about a style or a picture it does not understand, fails the test."""
    caplog.set_level(logging.WARNING, logger="weasyprint")
    yield
    said = [record.getMessage() for record in caplog.records if record.name.startswith("weasyprint")]
    assert said == []


@pytest.fixture(autouse=True, scope="session")
def shared_reports(tmp_path_factory, worker_id):
    """The folder of reports that the test processes of a run share."""
    if worker_id != "master":
        made_once.made_once.folder = tmp_path_factory.getbasetemp().parent / "reports"
        made_once.made_once.folder.mkdir(exist_ok=True)


@cache
def rendered(name: str, form: str) -> bytes:
    """The report of a sample, rendered once a run of all tests."""
    return made_once.report(MAKERS[name](), form)


@pytest.fixture(params=list(MAKERS))
def sample_name(request) -> str:
    return request.param


@pytest.fixture(scope="session")
def pdf():
    """Reports as PDF, by the name of the sample."""
    return lambda name: rendered(name, "pdf")


@pytest.fixture(scope="session")
def html():
    """Reports as HTML, by the name of the sample."""
    return lambda name: rendered(name, "html").decode("utf-8")


@pytest.fixture(scope="session")
def pdf_pages():
    """The text of each page, by the name of the sample."""
    return cache(lambda name: made_once.pages(MAKERS[name]()))
