"""A keeper who is asked: what is granted, and what the program asked for."""

granted: set[str] = set()
asked: list[list[str]] = []
callbacks: list = []


def check_permission(name: str) -> bool:
    return name in granted


def request_permissions(names: list[str], callback) -> None:
    asked.append(names)
    callbacks.append(callback)


def answer(*names: str) -> None:
    """Let the keeper allow these and no others."""
    granted.update(names)
    callbacks.pop()(asked[-1], [name in granted for name in asked[-1]])
