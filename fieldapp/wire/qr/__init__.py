"""Reads the text of a QR code (ISO/IEC 18004) from a photo of it.

Written out here because no library that reads one can be built for the phone as it stands. It
needs Pillow, which the phone has, and no other native code.
"""

from fieldapp.wire.qr.reading import read

__all__ = ["read"]
