"""A pool of worker processes for the tests of work that runs in one."""

import pytest

from service.jobs.pool import Pool


@pytest.fixture(scope="module")
def pool():
    pool = Pool(2, waiting=1)
    pool.start()
    yield pool
    pool.close()
