"""Operations, devices and tokens, and where each operation's journal lies."""
