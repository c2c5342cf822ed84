"""Use cases that screens and tests drive: a round, setting up, what is due, the home sync.

Each is a plain class with a state to show and methods to call. They write drafts through the
`Notebook`, which answers when they are on the disk.
"""
