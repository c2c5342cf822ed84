"""The devices of an Android phone, through pyjnius. Nothing here is loaded anywhere else.

Where plyer's form works on a phone it is used (vibration); these stand where it does not: its
notification has no FLAG_IMMUTABLE, and its receiver of fixes knows no batches.
"""
