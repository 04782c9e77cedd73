"""Work done in a locale, here and in another process, for every kind of report."""

import json
import re
from functools import partial
from pathlib import Path

import pytest

from reports import numerals
from service.app import create_app
from service.jobs.in_locale import in_locale
from service.jobs.pool import Pool
from service.settings import Settings

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
PAPER = re.compile(r"(?<![\w-])size: (\w+)")
HUNDREDTHS = re.compile(r">[^<{]*?(?<![\d.])(\d\.\d\d)(?![\d.])[^<{]*<")
"""A number of two decimals in the text of a page."""
ASKED = {
    "/v1/verdicts": "verdict-request.json",
    "/v1/design-checks": "design-check-request.json",
    "/v1/plans": "plan-request.json",
}


def test_a_worker_process_writes_numbers_as_it_is_told():
    pool = Pool(1, waiting=1)
    try:
        work = partial(numerals.fixed, 1.5, 2)
        assert pool.run(partial(in_locale, "en-DE", work), seconds=60) == "1,50"
        assert pool.run(work, seconds=60) == "1.50"
    finally:
        pool.close()


def test_a_locale_that_is_not_known_is_refused():
    with pytest.raises(ValueError, match="en-GB"):
        in_locale("tlh", partial(numerals.fixed, 1.5, 2))


@pytest.mark.parametrize("route", ASKED)
def test_every_report_takes_numbers_and_paper_of_its_locale(route, tmp_path):
    app = create_app(Settings(database=f"sqlite:///{tmp_path / 'kept.sqlite3'}"))
    body = json.loads((EXAMPLES / ASKED[route]).read_text(encoding="utf-8"))
    pages = {
        locale: app.test_client().post(f"{route}?form=html&locale={locale}", json=body).get_data(as_text=True)
        for locale in ("en-GB", "en-US", "en-DE")
    }
    app.close()
    app.database.close()
    assert {locale: PAPER.findall(page) for locale, page in pages.items()} == {
        "en-GB": ["A4"], "en-US": ["letter"], "en-DE": ["A4"]
    }  # fmt: skip
    number = HUNDREDTHS.search(pages["en-GB"])[1]
    assert number in pages["en-US"]
    assert number not in pages["en-DE"]
    assert number.replace(".", ",") in pages["en-DE"]
