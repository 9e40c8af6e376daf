"""SHA-256, without loading more than it takes.

``hashlib`` loads the whole of OpenSSL before it can hash anything, which a short check would
notice; the interpreter's own SHA-256 is the same function.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hashlib import sha256
else:
    try:
        from _sha256 import sha256  # CPython 3.11
    except ImportError:
        try:
            from _sha2 import sha256  # CPython 3.12 and later
        except ImportError:
            from hashlib import sha256

__all__ = ["sha256"]
