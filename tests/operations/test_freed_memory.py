"""What a large body took is the system's again once it is freed; else the C library would keep it."""

import platform
import subprocess
import sys

import pytest

BODY = 16 * 2**20
PROGRAM = f"""
import sys
from pathlib import Path
from service.operations.freed_memory import give_freed_memory_back

def resident():
    return int(Path("/proc/self/statm").read_text().split()[1]) * 4096

if sys.argv[1] == "set":
    give_freed_memory_back()
before = resident()
for _ in range(3):
    body = bytearray(b"x") * {BODY}
    del body
print(resident() - before)
"""


def kept(how: str) -> int:
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, how], capture_output=True, text=True, check=True, timeout=60
    )
    return int(done.stdout)


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="other C libraries are left as they are")
def test_large_blocks_go_back_to_the_system():
    assert kept("unset") > BODY / 2
    assert kept("set") < BODY / 8
