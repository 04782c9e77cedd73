"""What the zip module raises for a file that is none, is damaged, is encrypted or is packed in an odd way.

Its errors are not of one kind: a directory that points outside of the file is a ValueError of the stream.
"""

import struct
import zipfile
import zlib
from typing import Final

BROKEN_ZIP: Final = (
    zipfile.BadZipFile,
    zipfile.LargeZipFile,
    zlib.error,
    struct.error,
    EOFError,
    OSError,
    NotImplementedError,
    RuntimeError,
    ValueError,
    OverflowError,
)
