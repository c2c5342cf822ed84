"""What the server must remember beside the journals: operations, devices, codes, sessions."""

from syncserver.store.store import CodeState, Device, Operation, Session, Store

__all__ = ["CodeState", "Device", "Operation", "Session", "Store"]
