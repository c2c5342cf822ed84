"""What the phone can do beyond the screen: an interface each, and quiet, honest absence.

Every device answers at once and never fails: where the phone or the computer has none, its
`there` is false and using it does nothing. Nothing here waits for a device.
"""
