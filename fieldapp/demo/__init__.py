"""The generator of the invented demo season, for demo, tests and benchmarks."""
