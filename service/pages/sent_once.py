"""A form that is sent twice keeps what it brings once."""

import hashlib
from typing import TYPE_CHECKING

from flask import request

if TYPE_CHECKING:
    from service.jobs.kept_batches import NewBatch
    from service.jobs.kept_keys import Keyed


def keyed(key: str, batch: "NewBatch") -> "Keyed | None":
    """The batch under the key that its form carried; None where it carried none.

    Raises BadInput for a key that is too long.
    """
    from service.jobs.kept_keys import Keyed, check_key

    if not key:
        return None
    asked = f"POST {request.path} {batch.media_type} {batch.corrects}"
    return Keyed(check_key(key), asked, hashlib.sha256(batch.body).hexdigest())
