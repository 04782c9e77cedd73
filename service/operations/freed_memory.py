"""Memory of large requests goes back to the system when they have been answered."""

import ctypes

_M_MMAP_THRESHOLD = -3  # mallopt(3), <malloc.h>
_LARGE_BYTES = 2**20


def give_freed_memory_back() -> None:
    """Let the C library return every block from 1 MiB on as soon as it is freed.

    By default glibc raises that bound with the first large block that is freed, up to 32 MiB, and each thread
    of a server then keeps what the largest body took (mallopt(3), M_MMAP_THRESHOLD). Other C libraries are
    left as they are.
    """
    set_option = getattr(ctypes.CDLL(None), "mallopt", None)
    if set_option is not None:
        set_option(_M_MMAP_THRESHOLD, _LARGE_BYTES)
