"""What phone and server say to each other: bytes, codes and limits, pure and shared by both."""
