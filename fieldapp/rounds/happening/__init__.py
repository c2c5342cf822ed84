"""What happens to hives, entered where they stand: splits, unions, moves, carried supers.

Each is a form of its own. What follows is computed by the rules before anything is written, and
what a standstill blocks is not written unless its keeper says that it was done all the same.
"""
