"""Work in the calling process."""

from functools import partial

import pytest

from service.errors import BadInput
from service.jobs.runners import Here
from tests.jobs import work


def test_here_is_this_process_and_raises_as_it_is():
    here = Here()
    here.start()
    assert here.ready()
    assert here.run(work.process_id, seconds=0) == work.process_id()
    assert here.run(partial(work.add, 1, 2), seconds=0) == 3
    with pytest.raises(BadInput):
        here.run(work.refuse, seconds=0)
    with pytest.raises(RuntimeError):
        here.run(work.fail, seconds=0)
    here.close()
