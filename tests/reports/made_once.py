"""Reports of the samples, made once for all test processes: making them is most of what these tests cost."""

import uuid
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path


class MadeOnce:
    """Files in a folder that all test processes of a run share; without one each process makes its own."""

    def __init__(self) -> None:
        self.folder: Path | None = None

    def __call__(self, *names: str, make: Callable[[], bytes]) -> bytes:
        """What is called so, made by the first that asks for it."""
        if self.folder is None:
            return make()
        kept = self.folder / sha256("\n".join(names).encode()).hexdigest()
        if not kept.exists():
            beside = kept.with_suffix(f".{uuid.uuid4().hex}")
            beside.write_bytes(make())
            beside.rename(kept)
        return kept.read_bytes()


made_once = MadeOnce()
